package org.stopwell.harness.length;

import java.util.List;

/** A length record that cannot be used, with every mistake found. */
public final class LengthFileException extends Exception {
  private static final long serialVersionUID = 1L;

  private final transient List<String> mistakes;

  LengthFileException(List<String> mistakes) {
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
