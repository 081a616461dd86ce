package org.stopwell.core.motion;

import org.stopwell.core.trace.StateHash;

/** Limits how fast a commanded speed changes. Stopping is never delayed: a rest is immediate. */
public final class SpeedRamp {
  private static final long NS_PER_S = 1_000_000_000L;

  private long speedMilliRpm;
  private long remainder;

  /** At rest. */
  public SpeedRamp() {}

  /**
   * One step towards a target.
   *
   * @param dtNs time since the step before, ns
   * @param targetMilliRpm the speed wanted, at least 0, milli-rpm
   * @param rampMilliRpmPerSecond the steepest change, milli-rpm/s
   */
  public void update(long dtNs, int targetMilliRpm, long rampMilliRpmPerSecond) {
    long budget = rampMilliRpmPerSecond * dtNs + remainder;
    long most = budget / NS_PER_S;
    remainder = budget % NS_PER_S;
    long change = targetMilliRpm - speedMilliRpm;
    speedMilliRpm += Math.max(-most, Math.min(most, change));
  }

  /**
   * The speed to command.
   *
   * @return milli-rpm
   */
  public int speedMilliRpm() {
    return (int) speedMilliRpm;
  }

  /** Back to rest at once. */
  public void rest() {
    speedMilliRpm = 0;
    remainder = 0;
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    return StateHash.mix(StateHash.mix(hash, speedMilliRpm), remainder);
  }
}
