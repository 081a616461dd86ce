package org.stopwell.core.guard;

import org.stopwell.core.trace.StateHash;

/**
 * A flicker-proof timer: time with the condition is spent at its own pace, time without it is given
 * back at a quarter of that. A condition that comes and goes still trips; one that has tripped
 * clears only when the whole budget is back.
 */
public final class Budget {
  private static final int RECOVERY = 4;

  private final long limitNs;
  private long spentNs;
  private boolean tripped;

  /**
   * A full budget.
   *
   * @param limitNs longest uninterrupted time of the condition, ns; 0 trips at once
   */
  public Budget(long limitNs) {
    this.limitNs = limitNs;
  }

  /**
   * One step.
   *
   * @param dtNs time since the step before, ns, at least 0
   * @param present whether the condition holds
   * @return whether the budget is spent
   */
  public boolean update(long dtNs, boolean present) {
    if (present) {
      spentNs = Math.min(limitNs, spentNs + dtNs);
      tripped |= spentNs >= limitNs;
    } else if (spentNs > 0) {
      spentNs = Math.max(0, spentNs - dtNs / RECOVERY);
      tripped &= spentNs > 0;
    } else {
      tripped = false;
    }
    return tripped;
  }

  /**
   * Whether a step leaves the budget as it is.
   *
   * @param present whether the condition holds in that step
   * @return true for a spent budget under its condition and a whole one without
   */
  public boolean isSettled(boolean present) {
    return present == tripped && spentNs == (present ? limitNs : 0);
  }

  /**
   * Whether the budget is spent.
   *
   * @return true from the trip until all of it is given back
   */
  public boolean tripped() {
    return tripped;
  }

  /** Spends the whole budget at once. */
  public void spend() {
    spentNs = limitNs;
    tripped = true;
  }

  /** Gives the whole budget back. */
  public void refill() {
    spentNs = 0;
    tripped = false;
  }

  /**
   * Folds in the state. Most budgets are whole nearly always: those only turn the hash, so that it
   * still shows which one is not.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    long turned = Long.rotateLeft(hash, 7);
    return spentNs == 0 && !tripped ? turned : StateHash.mix(turned, spentNs, tripped);
  }
}
