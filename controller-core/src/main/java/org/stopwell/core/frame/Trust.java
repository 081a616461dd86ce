package org.stopwell.core.frame;

/**
 * Trust in the reading: a statement about its error. Codes are part of the wire and trace contract.
 */
public enum Trust {
  /** There is no distance, or one of no use. */
  NONE(0),
  /** The stated bound is wider than the tolerance of the stage, or none is stated; still useful. */
  DOUBTFUL(1),
  /** The stated bound, which holds 95 times in 100, is within the tolerance of the stage. */
  SURE(2);

  private static final Trust[] BY_CODE = values();

  private final int code;

  Trust(int code) {
    if (code != ordinal()) {
      throw new IllegalArgumentException("code " + code + " is not the ordinal " + ordinal());
    }
    this.code = code;
  }

  /**
   * Code of this value on the wire and in traces.
   *
   * @return a code from 0
   */
  public int code() {
    return code;
  }

  /**
   * The value with a code.
   *
   * @param code a number from the wire or a trace
   * @return the value, {@link #NONE} for an unknown code
   */
  public static Trust ofCode(int code) {
    return code >= 0 && code < BY_CODE.length ? BY_CODE[code] : NONE;
  }
}
