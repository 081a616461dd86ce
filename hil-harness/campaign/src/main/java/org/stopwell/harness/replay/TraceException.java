package org.stopwell.harness.replay;

import java.util.List;

/** A trace that cannot be replayed, with every mistake found. */
public final class TraceException extends Exception {
  private static final long serialVersionUID = 1L;

  private final transient List<String> mistakes;

  TraceException(List<String> mistakes) {
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
