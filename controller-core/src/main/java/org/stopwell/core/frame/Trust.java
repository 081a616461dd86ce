package org.stopwell.core.frame;

/** Trust in the reading. Codes are part of the wire and trace contract. */
public enum Trust {
  /** The reading says nothing about where the file is. */
  NONE(0),
  /** The reading may be off by more than its budget. */
  DOUBTFUL(1),
  /** The reading may be acted on. */
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
