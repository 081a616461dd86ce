package org.stopwell.harness.trial;

import org.jspecify.annotations.Nullable;
import org.stopwell.rig.fault.Injection;

/**
 * A deliberate fault of a plan, and its required result.
 *
 * @param injection what goes wrong, when, how long, how strongly
 * @param seed seed of what is random in it; below 0 it follows from the trial
 * @param verdict the verdict that the trial must have, or null when none is stated
 * @param cause what the fault must be named as; empty when nothing is stated
 * @param withinNs time until the motor must be commanded to rest, ns; 0 when nothing is stated
 */
public record PlannedFault(
    Injection injection, long seed, @Nullable Verdict verdict, String cause, long withinNs) {
  /**
   * Whether a result is required.
   *
   * @return false for a fault that is only tried
   */
  public boolean isJudged() {
    return verdict != null || !cause.isEmpty() || withinNs > 0;
  }
}
