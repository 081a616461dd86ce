package org.stopwell.core.frame;

/** A step of the work with its own settings. Codes are part of the wire and trace contract. */
public enum Stage {
  /** Opening the crown and middle thirds. */
  OPEN(0),
  /** Measuring the length. */
  LENGTH(1),
  /** Shaping in a full canal. */
  SHAPE(2),
  /** Measuring again before filling. */
  RECHECK(3);

  private static final Stage[] BY_CODE = values();

  private final int code;

  Stage(int code) {
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
   * @return the value, {@link #LENGTH} for an unknown code
   */
  public static Stage ofCode(int code) {
    return code >= 0 && code < BY_CODE.length ? BY_CODE[code] : LENGTH;
  }
}
