package org.stopwell.harness.tune;

import org.stopwell.harness.plan.TuneTarget;
import org.stopwell.harness.stats.Proportion;

/**
 * What the search aims at so that the judgement can confirm a limit. Settings whose true value is
 * the limit itself would be undecided in half of all judgements.
 */
final class Aim {
  /** One-sided confidence of a confirmed limit. */
  static final double CONFIDENCE = 0.95;

  /** Probability that settings at the aim are confirmed; the customary power of a study. */
  private static final double POWER = 0.8;

  /** Standard normal quantiles of confidence and power together: 1.645 + 0.842. */
  private static final double QUANTILES = 2.486;

  private Aim() {}

  /** The greatest count in fresh canals that confirms a share; −1 where not even 0 does. */
  static long mostCount(double share, long canals) {
    long low = -1;
    long high = canals;
    while (high - low > 1) {
      long middle = (low + high) >>> 1;
      boolean confirms = new Proportion(middle, canals).upperBound(CONFIDENCE).orElse(1) <= share;
      if (confirms) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return low;
  }

  /** The fewest canals that confirm a share with 0 events. */
  static long fewestCanals(double share) {
    return (long) Math.ceil(Math.log(1 - CONFIDENCE) / Math.log1p(-share));
  }

  /**
   * The share that the search aims at: settings with this true share are confirmed with the wanted
   * probability, P(count of n ≤ the greatest that confirms) = power.
   */
  static double share(double limit, long canals) {
    long most = mostCount(limit, canals);
    return new Proportion(most + 1, canals).lowerBound(POWER).orElse(0);
  }

  /**
   * How far a measured point is above the aim, as a part of the limit; 0 where it meets it, and
   * infinite where it cannot be measured.
   */
  static double excess(TuneTarget.Limit limit, Measured of, int freshCanals) {
    double value = of.value(limit.measure());
    double aim =
        limit.measure().isShare()
            ? share(limit.atMost(), freshCanals)
            : limit.atMost() - QUANTILES * of.error(limit.measure(), freshCanals);
    double above = (value - aim) / limit.atMost();
    return Double.isNaN(above) ? Double.POSITIVE_INFINITY : Math.max(0, above);
  }
}
