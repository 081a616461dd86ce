package org.stopwell.harness.evidence;

import java.util.Locale;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Sentinels;
import org.stopwell.harness.trial.TrialResult;

/**
 * A known-answer trial that broke a rule. What it says names trials by number and no condition, so
 * that a blinded factor stays blinded; where later sentinels stand does not follow from it.
 *
 * @param rule what was expected
 * @param trial the sentinel
 * @param firstUnproven the first trial since the last good sentinel, from 0
 * @param z how far off it was, in standard deviations of a sound rig
 * @param broken the rule that it broke
 */
public record BadSentinel(
    SentinelRule rule, TrialResult trial, int firstUnproven, double z, Sentinels.Rule broken) {

  /**
   * Which sentinel, which rule, and which trials are worth nothing.
   *
   * @return two sentences
   */
  public String sentence() {
    int number = trial.index() + 1;
    String found =
        Double.isInfinite(z)
            ? "did not rest by a decision of the controller (" + trial.code() + ")"
            : "rests "
                + Numbers.plainMillimetres(trial.remainingMicrons())
                + " short of the foramen, "
                + String.format(Locale.ROOT, "%+.1f SD", z)
                + " off";
    return "Trial "
        + number
        + " was a sentinel and "
        + found
        + "; the known answer is "
        + Numbers.plainMillimetres(rule.expectedMicrons())
        + ", SD "
        + Numbers.plainMillimetres(rule.deviationMicrons())
        + ": "
        + rule.limits().text(broken)
        + ". "
        + unproven();
  }

  private String unproven() {
    int tests = trial.index() - firstUnproven;
    if (tests == 0) {
      return "No trial lies between it and the sentinel before it.";
    }
    return tests == 1
        ? "Trial " + trial.index() + " is excluded: no good sentinel has followed it."
        : "Trials "
            + (firstUnproven + 1)
            + " to "
            + trial.index()
            + " are excluded: no good sentinel has followed them.";
  }
}
