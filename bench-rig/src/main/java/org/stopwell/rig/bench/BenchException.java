package org.stopwell.rig.bench;

/** The bench failed: the trial is a rig fault, never a failure of the controller. */
public final class BenchException extends Exception {
  private static final long serialVersionUID = 1L;

  /** Why a bench failed. The name is the cause code in reports. */
  public enum RigFault {
    /** There is no such port. */
    PORT_MISSING,
    /** Another program holds the port. */
    PORT_BUSY,
    /** The user may not open the port. */
    PORT_DENIED,
    /** The port went away. */
    PORT_GONE,
    /** Nobody answered in time. */
    NO_ANSWER,
    /** The board was reset, or another host opened a session on it. */
    SESSION_LOST,
    /** The other end is not the expected board. */
    WRONG_IDENTITY,
    /** The board under test holds other settings or another build than the trial needs. */
    DUT_OTHER,
    /** Another bench answers than the one that the campaign began with. */
    BENCH_CHANGED,
    /** Frames arrive damaged more often than allowed. */
    BAD_FRAMES,
    /** The front end gives no samples, the same samples, saturated samples or impossible values. */
    FRONT_END,
    /** The measuring circuit is short, or open where it was closed before. */
    LEADS,
    /** The speed reads 0 while the file turns. */
    SPEED_SENSOR,
    /** The motor is commanded to turn and takes no current. */
    MOTOR,
    /** Samples of the position signal run backward in time or number. */
    READING_ORDER,
    /** The position signal has a resistance below 0. */
    NEGATIVE_RESISTANCE,
    /** The bench cannot make this scene. */
    REFUSED,
    /** The loop was later than its budget. */
    LATE,
    /** The bench's own watchdog cut the power. */
    WATCHDOG,
    /** The stage did not go where it was sent. */
    STAGE,
    /** A reading contradicts the wire protocol or the scene. */
    BAD_READING,
    /** What the bench calls the true distance cannot be true. */
    BAD_TRUTH
  }

  private final RigFault fault;

  /**
   * A failure with its cause code.
   *
   * @param fault the cause code
   * @param message what happened, with place, value, limit and unit
   */
  public BenchException(RigFault fault, String message) {
    super(message);
    this.fault = fault;
  }

  /**
   * A failure with its cause code and what led to it.
   *
   * @param fault the cause code
   * @param message what happened, with place, value, limit and unit
   * @param cause what led to it
   */
  public BenchException(RigFault fault, String message, Throwable cause) {
    super(message, cause);
    this.fault = fault;
  }

  /**
   * The cause code.
   *
   * @return why the bench failed
   */
  public RigFault fault() {
    return fault;
  }
}
