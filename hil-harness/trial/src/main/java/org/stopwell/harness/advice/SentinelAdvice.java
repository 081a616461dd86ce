package org.stopwell.harness.advice;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalInt;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.SentinelAlarms;

/** What the sentinels of a plan can find, and how often they are wrong. */
public final class SentinelAdvice {
  private static final double POWER = 0.9;

  private SentinelAdvice() {}

  /**
   * False alarms and power of a plan's sentinels.
   *
   * @param plan the plan, with the number of trials it is run with
   * @return sentences, none without sentinels
   */
  public static List<String> of(Plan plan) {
    return plan.protocol().sentinels().map(SentinelAdvice::of).orElse(List.of());
  }

  /**
   * False alarms and power of sentinels.
   *
   * @param rule their rule
   * @return two sentences; none for a run file that does not hold how many were planned
   */
  public static List<String> of(SentinelRule rule) {
    int sentinels = rule.planned();
    if (sentinels == 0) {
      return List.of();
    }
    double alarm = SentinelAlarms.probability(sentinels, rule.learnedFrom(), rule.widening(), 0);
    List<String> found = new ArrayList<>();
    for (int shift = 2; shift <= 4; shift++) {
      OptionalInt after =
          SentinelAlarms.foundAfter(sentinels, rule.learnedFrom(), rule.widening(), shift, POWER);
      found.add(
          String.format(
              Locale.ROOT,
              "%d SD (%s) %s",
              shift,
              Numbers.plainMillimetres(shift * rule.deviationMicrons()),
              after.isPresent()
                  ? "within "
                      + after.getAsInt()
                      + (after.getAsInt() == 1 ? " sentinel" : " sentinels")
                  : "not within the campaign"));
    }
    return List.of(
        String.format(
            Locale.ROOT,
            "A sound bench gives a false alarm in %.1f %% of campaigns with %d sentinels, if rests"
                + " are normal and the known answer comes from %d trials. The limits of the rules"
                + " are widened by %.2f SD.",
            100 * alarm,
            sentinels,
            rule.learnedFrom(),
            rule.widening()),
        "A lasting shift is found with 90 % probability: " + String.join(", ", found) + ".");
  }
}
