package org.stopwell.core.guard;

import org.stopwell.core.trace.StateHash;

/** Turns the times of the steps into time passed, and notices times that cannot be. */
public final class StepClock {
  private final long gapNs;
  private boolean started;
  private long lastNs;
  private boolean fault;

  /**
   * A clock before the first step.
   *
   * @param gapNs longest time between two steps, ns
   */
  public StepClock(long gapNs) {
    this.gapNs = gapNs;
  }

  /**
   * The next step.
   *
   * @param nowNs its time, ns
   * @return time that may be counted as passed: 0 at the first step and when time goes backwards,
   *     the longest gap when it jumps, ns
   */
  public long advance(long nowNs) {
    long dtNs = started ? nowNs - lastNs : 0;
    boolean backwards = started && nowNs < lastNs;
    started = true;
    lastNs = nowNs;
    fault = backwards || !(dtNs >= 0 && dtNs <= gapNs);
    return !fault ? dtNs : backwards ? 0 : gapNs;
  }

  /**
   * Whether the last step came at a time that cannot be.
   *
   * @return true when time went backwards or jumped
   */
  public boolean fault() {
    return fault;
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    return StateHash.mix(StateHash.mix(hash, lastNs, started), fault);
  }
}
