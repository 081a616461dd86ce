package org.stopwell.core.motion;

import org.stopwell.core.trace.StateHash;

/** How far the file has turned, from its measured speed. */
public final class TurnAngle {
  /** One milli-rpm for one nanosecond is six millionths of a microdegree. */
  private static final long DEGREES_PER_TURN_PER_MINUTE_IN_SECONDS = 6;

  private static final long MICRO = 1_000_000L;

  private long microDegrees;
  private long remainder;

  /** At zero. */
  public TurnAngle() {}

  /**
   * One step.
   *
   * @param dtNs time since the step before, ns
   * @param speedMilliRpm measured speed, milli-rpm, positive in the cutting direction
   */
  public void update(long dtNs, int speedMilliRpm) {
    long millionths = speedMilliRpm * DEGREES_PER_TURN_PER_MINUTE_IN_SECONDS * dtNs + remainder;
    microDegrees += millionths / MICRO;
    remainder = millionths % MICRO;
  }

  /** Back to zero. */
  public void zero() {
    microDegrees = 0;
    remainder = 0;
  }

  /**
   * The angle.
   *
   * @return millidegrees, positive in the cutting direction
   */
  public long milliDegrees() {
    return microDegrees / 1_000;
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    return StateHash.mix(StateHash.mix(hash, microDegrees), remainder);
  }
}
