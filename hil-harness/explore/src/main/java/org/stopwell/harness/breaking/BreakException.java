package org.stopwell.harness.breaking;

import java.util.List;

/** A search that cannot be asked for, with every mistake. */
public final class BreakException extends Exception {
  private static final long serialVersionUID = 1;

  private final List<String> mistakes;

  BreakException(List<String> mistakes) {
    super(String.join("; ", mistakes));
    this.mistakes = List.copyOf(mistakes);
  }

  /**
   * The same mistakes with the place where they stand.
   *
   * @param place such as an option
   * @return mistakes that name it
   */
  public BreakException at(String place) {
    return new BreakException(mistakes.stream().map(m -> place + " " + m).toList());
  }

  /**
   * The mistakes.
   *
   * @return one line each
   */
  public List<String> mistakes() {
    return mistakes;
  }
}
