package org.stopwell.core.frame;

/** Command to the motor. Codes are part of the wire and trace contract. */
public enum Drive {
  /** No power; the shaft coasts. */
  OFF(0),
  /** Windings shorted; the shaft is held back electrically. */
  BRAKE(1),
  /** Cutting direction. */
  FORWARD(2),
  /** Against the cutting direction. */
  BACKWARD(3);

  private static final Drive[] BY_CODE = values();

  private final int code;

  Drive(int code) {
    if (code != ordinal()) {
      throw new IllegalArgumentException("code " + code + " is not the ordinal " + ordinal());
    }
    this.code = code;
  }

  /**
   * Code of this drive on the wire and in traces.
   *
   * @return a code from 0
   */
  public int code() {
    return code;
  }

  /**
   * The drive with a code.
   *
   * @param code a number from the wire or a trace
   * @return the drive, {@link #OFF} for an unknown code: nonsense never turns a motor
   */
  public static Drive ofCode(int code) {
    return code >= 0 && code < BY_CODE.length ? BY_CODE[code] : OFF;
  }

  /**
   * Whether the motor is powered to turn.
   *
   * @return true for forward and backward
   */
  public boolean turns() {
    return this == FORWARD || this == BACKWARD;
  }
}
