package org.stopwell.core.frame;

/** Why the controller changed state. Codes are part of the wire and trace contract. */
public enum Reason {
  /** Nothing has happened yet. */
  STARTED_UP(0),
  /** The file has entered the canal. */
  CANAL_ENTERED(1),
  /** The file has left the canal. */
  CANAL_LEFT(2),
  /** The standoff is near. */
  APPROACHING(3),
  /** The standoff is far again. */
  CLEAR_AGAIN(4),
  /** The file has reached the standoff. */
  STANDOFF_REACHED(5),
  /** The file is past the foramen. */
  PAST_FORAMEN(6),
  /** The file was withdrawn far and long enough. */
  REARMED(7),
  /** The torque limit was reached. */
  TORQUE_LIMIT(8),
  /** The file was freed. */
  TORQUE_RELEASED(9),
  /** The torque limit was reached too often in a row. */
  RETRIES_SPENT(10),
  /** Turning backwards has done its work. */
  BACKED_OUT(11),
  /** The reading may no longer be acted on; the cause says why. */
  TRUST_LOST(12),
  /** The reading is trusted again. */
  TRUST_REGAINED(13),
  /** The newest sample is too old. */
  SIGNAL_STALE(14),
  /** The emergency-stop line is open. */
  STOP_LINE(15),
  /** The bench has gone silent. */
  LINK_LOST(16),
  /** The operator no longer asks for motion. */
  DEMAND_RELEASED(17),
  /** The input is outside of what a bench can send. */
  BAD_INPUT(18),
  /** Time went backwards or jumped. */
  TIME_FAULT(19),
  /** The motor does not follow the command. */
  MOTOR_FAULT(20),
  /** A latched fault was acknowledged. */
  RESET(21),
  /** The file turns against the command. */
  WRONG_DIRECTION(22),
  /** The file does not turn on command. */
  STALLED(23),
  /** The file turns against the command to rest. */
  RUNAWAY(24),
  /** The motor has taken more heat than it can give off. */
  OVERHEATED(25),
  /** The motor supply is too low. */
  SUPPLY_LOW(26),
  /** The stop monitor has stopped the motor. */
  MONITOR_STOP(27),
  /** The depth limit of the stage was reached. */
  DEPTH_LIMIT(28),
  /** Another stage was asked for while the file was turning, or one without settings. */
  STAGE_REFUSED(29),
  /** The load asks for reciprocation. */
  LOAD_HIGH(30),
  /** The load no longer asks for reciprocation. */
  LOAD_LOW(31),
  /** The file has turned as often as it may. */
  FILE_SPENT(32),
  /** The file turns faster than commanded. */
  OVERSPEED(33),
  /** The depth axis contradicts the readings and is no longer used. */
  AXIS_DROPPED(34);

  private static final Reason[] BY_CODE = values();

  private final int code;

  Reason(int code) {
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
   * @return the value, {@link #BAD_INPUT} for an unknown code
   */
  public static Reason ofCode(int code) {
    return code >= 0 && code < BY_CODE.length ? BY_CODE[code] : BAD_INPUT;
  }
}
