package org.stopwell.core.weights;

/**
 * Text that holds no valid weights. The message names the file, the line, the value and the limit.
 */
public final class WeightsException extends Exception {
  private static final long serialVersionUID = 1;

  private final int line;
  private final String why;

  WeightsException(String name, int line, String why) {
    super(name + ":" + line + ": " + why);
    this.line = line;
    this.why = why;
  }

  /**
   * Where the mistake stands.
   *
   * @return line, from 1
   */
  public int line() {
    return line;
  }

  /**
   * What is wrong, without file and line.
   *
   * @return one sentence
   */
  public String why() {
    return why;
  }
}
