package org.stopwell.rig.wire;

/** What the stage does, or why it does nothing. The order is part of the wire contract. */
public enum StageState {
  /** No move was requested since the reset. */
  RESTING,
  /** It seeks its home switch: still busy. */
  HOMING,
  /** It moves to a place: still busy. */
  MOVING,
  /** At its target, or at home. */
  ARRIVED,
  /** It was stopped by a request. */
  STOPPED,
  /** Refused: its place is unknown, so it must go home first. */
  NOT_HOMED,
  /** Refused: it is still busy. */
  BUSY,
  /** Refused: the place or the speed is outside its limits. */
  OUTSIDE,
  /** The home switch opened at the wrong place; the stage must go home again. */
  HOME_LIMIT,
  /** It reached its far limit switch; it must go home again. */
  FAR_LIMIT,
  /** There was no home switch all the way. */
  HOME_NOT_FOUND,
  /** The home switch did not let go when the stage went off it. */
  HOME_STUCK,
  /** The emergency-stop line is open. */
  STOP_LINE,
  /** The host was silent for too long, or opened a new session or trial. */
  LEFT_ALONE,
  /** It feeds the file of a device under test: still busy. */
  FEEDING;

  /**
   * Whether the stage moves now.
   *
   * @return true during a movement
   */
  public boolean busy() {
    return this == HOMING || this == MOVING || this == FEEDING;
  }
}
