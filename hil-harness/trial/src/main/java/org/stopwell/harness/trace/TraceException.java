package org.stopwell.harness.trace;

import java.util.List;

/** Traces that cannot be used, with every mistake found. */
public final class TraceException extends Exception {
  private static final long serialVersionUID = 1L;

  private final transient List<String> mistakes;

  /**
   * A refusal.
   *
   * @param mistakes at least one line
   */
  public TraceException(List<String> mistakes) {
    super(String.join("\n", mistakes));
    this.mistakes = List.copyOf(mistakes);
  }

  /**
   * Every mistake found.
   *
   * @return at least one line
   */
  public List<String> mistakes() {
    return mistakes;
  }
}
