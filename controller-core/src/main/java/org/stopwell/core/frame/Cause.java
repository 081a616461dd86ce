package org.stopwell.core.frame;

/** Why trust was lost. Codes are part of the wire and trace contract. */
public enum Cause {
  /** Trust is not lost. */
  NO_CAUSE(0),
  /** Current finds a way around the canal: the chamber is wet. */
  LEAKING(1),
  /** The file tip is out of the fluid. */
  UNWETTED(2),
  /** The measuring circuit is open. */
  OPEN(3),
  /** The signal jumps as no file moves, or as no canal can. */
  JUMPY(4),
  /** The newest sample is too old. */
  STALE(5),
  /** The front end is saturated. */
  RAILED(6),
  /** The signal, or one channel of it, does not change while the file moves. */
  FROZEN(7),
  /** The signal is unlike everything that was learned. */
  VAGUE(8),
  /** The stated bound of the distance is wider than the tolerance, or none is stated. */
  WIDE(9);

  private static final Cause[] BY_CODE = values();

  private final int code;

  Cause(int code) {
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
   * @return the value, {@link #NO_CAUSE} for an unknown code
   */
  public static Cause ofCode(int code) {
    return code >= 0 && code < BY_CODE.length ? BY_CODE[code] : NO_CAUSE;
  }
}
