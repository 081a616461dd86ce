package org.stopwell.core.frame;

/** What the controller is doing. Codes are part of the wire and trace contract. */
public enum State {
  /** Off and out of the canal, waiting for the file to enter. */
  PARKED(0),
  /** Driving at the set speed. */
  TURNING(1),
  /** Driving, slowed on approach. */
  EASING(2),
  /** Stopped; turning again needs withdrawal and dwell. */
  HOLDING(3),
  /** Turning backwards. */
  BACKING(4),
  /** Alternating forwards and backwards. */
  ROCKING(5),
  /** A latched fault; only a reset leaves it, and a reset never turns the motor. */
  LOCKED(6);

  private static final State[] BY_CODE = values();

  private final int code;

  State(int code) {
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
   * Whether the file is driven on.
   *
   * @return true for turning and easing
   */
  public boolean drives() {
    return this == TURNING || this == EASING;
  }

  /**
   * The value with a code.
   *
   * @param code a number from the wire or a trace
   * @return the value, {@link #LOCKED} for an unknown code
   */
  public static State ofCode(int code) {
    return code >= 0 && code < BY_CODE.length ? BY_CODE[code] : LOCKED;
  }
}
