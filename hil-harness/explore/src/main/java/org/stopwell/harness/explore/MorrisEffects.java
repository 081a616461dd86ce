package org.stopwell.harness.explore;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.List;
import org.apache.commons.statistics.distribution.TDistribution;
import org.stopwell.harness.stats.Interval;

/**
 * Elementary effects of one outcome (Morris, Technometrics 1991;33:161): by how much the outcome
 * changes when a factor goes through its whole range and all others rest. µ* is the mean of the
 * absolute effects (Campolongo et al., Environ Model Softw 2007;22:1509).
 */
public final class MorrisEffects {
  private static final int OF_FACTOR = 4;

  /**
   * The effects of one factor.
   *
   * @param count how many effects were found
   * @param meanAbsolute µ*, in the unit of the outcome for the whole range
   * @param interval its 95 % interval, Student's t
   * @param mean µ, with the sign of the change; NaN for the rest, which has no direction
   * @param spread σ, large where the effect depends on other factors or is not straight
   */
  public record Effect(
      long count, double meanAbsolute, Interval interval, double mean, double spread) {}

  private MorrisEffects() {}

  /** How many sums are kept for some factors, the rest included. */
  static int sums(int factors) {
    return OF_FACTOR * factors;
  }

  /** Adds a change of the outcome, positive where it rises with the factor. */
  static void add(WideSums sums, int factor, long change) {
    int at = OF_FACTOR * factor;
    sums.add(at, 1);
    sums.add(at + 1, change);
    sums.add(at + 2, Math.abs(change));
    sums.add(at + 3, change * change);
  }

  /** The effects of all factors; the last is the rest. One without two effects has count 0 or 1. */
  static List<Effect> of(WideSums sums, int factors) {
    List<Effect> effects = new ArrayList<>();
    for (int i = 0; i < factors; i++) {
      int at = OF_FACTOR * i;
      long n = sums.exact(at).longValueExact();
      boolean rest = i == factors - 1;
      double step = rest ? 1 : MorrisDesign.STEP;
      if (n < 2) {
        Interval any = new Interval(Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY);
        effects.add(new Effect(n, Double.NaN, any, Double.NaN, Double.NaN));
        continue;
      }
      double absolute = sums.get(at + 2) / n / step;
      double half =
          TDistribution.of(n - 1.0).inverseSurvivalProbability(0.025)
              * deviation(n, sums.exact(at + 2), sums.exact(at + 3))
              / Math.sqrt((double) n)
              / step;
      effects.add(
          new Effect(
              n,
              absolute,
              new Interval(absolute - half, absolute + half),
              rest ? Double.NaN : sums.get(at + 1) / n / step,
              deviation(n, sums.exact(at + 1), sums.exact(at + 3)) / step));
    }
    return effects;
  }

  private static double deviation(long count, BigInteger sum, BigInteger squares) {
    BigInteger n = BigInteger.valueOf(count);
    return Math.sqrt(
        new BigDecimal(n.multiply(squares).subtract(sum.multiply(sum)))
            .divide(new BigDecimal(n.multiply(n.subtract(BigInteger.ONE))), MathContext.DECIMAL128)
            .doubleValue());
  }
}
