package org.stopwell.core.frame;

/** Everything one step of the controller says. A reused frame: the step overwrites every field. */
public final class ControllerOutput {
  /** Command to the motor. */
  public Drive drive = Drive.OFF;

  /** Speed at the file, never negative: {@link #drive} holds the direction, milli-rpm. */
  public int speedMilliRpm;

  /** Torque at the file that the motor side must not exceed, µN·m. */
  public int torqueLimitMicroNewtonMetres;

  /** What the controller is doing. */
  public State state = State.PARKED;

  /** Whether {@link #remainingMicrons} holds a reading. */
  public boolean readingPresent;

  /** The reading: distance from file tip to foramen, positive short of it, µm. */
  public int remainingMicrons;

  /** Stated bound: the error of the reading is within it 95 times in 100, µm; 0: none stated. */
  public int boundMicrons;

  /** Trust in the reading. */
  public Trust trust = Trust.NONE;

  /** Why trust is not {@link Trust#SURE}. */
  public Cause cause = Cause.NO_CAUSE;

  /** Why the controller is in {@link #state}. */
  public Reason reason = Reason.STARTED_UP;

  /** A frame that keeps a motor off. */
  public ControllerOutput() {}

  /**
   * Overwrites this frame.
   *
   * @param other the frame to copy
   */
  public void copyFrom(ControllerOutput other) {
    drive = other.drive;
    speedMilliRpm = other.speedMilliRpm;
    torqueLimitMicroNewtonMetres = other.torqueLimitMicroNewtonMetres;
    state = other.state;
    readingPresent = other.readingPresent;
    remainingMicrons = other.remainingMicrons;
    boundMicrons = other.boundMicrons;
    trust = other.trust;
    cause = other.cause;
    reason = other.reason;
  }

  /** Makes this frame one that keeps a motor off, as before the first step. */
  public void clear() {
    drive = Drive.OFF;
    speedMilliRpm = 0;
    torqueLimitMicroNewtonMetres = 0;
    state = State.PARKED;
    readingPresent = false;
    remainingMicrons = 0;
    boundMicrons = 0;
    trust = Trust.NONE;
    cause = Cause.NO_CAUSE;
    reason = Reason.STARTED_UP;
  }
}
