package org.stopwell.harness.stats;

import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.apache.commons.statistics.distribution.BetaDistribution;
import org.apache.commons.statistics.distribution.BinomialDistribution;

/**
 * Bounds on a share that hold at every number of trials at once: look after every trial, stop when
 * you like. The evidence against "the share is at most p₀" is the likelihood ratio averaged evenly
 * over all larger shares, a supermartingale that exceeds 1/α with a chance of at most α ever (Ville
 * 1939; Robbins 1970, Annals of Mathematical Statistics 41, 1397).
 */
public final class Anytime {
  private Anytime() {}

  /**
   * The evidence, as a factor, that the true share is above a limit.
   *
   * @param seen hits out of trials so far
   * @param limit the limit p₀, 0 to 1 exclusive
   * @return ln of ∫ (q/p₀)^k ((1−q)/(1−p₀))^(n−k) dq / (1−p₀) over q from p₀ to 1
   */
  public static double logEvidenceAbove(Proportion seen, double limit) {
    if (!(limit > 0 && limit < 1)) {
      throw new IllegalArgumentException("limit " + limit + ", must be above 0, below 1");
    }
    int n = Math.toIntExact(seen.trials());
    int k = (int) seen.count();
    double above = BetaDistribution.of(k + 1.0, n - k + 1.0).survivalProbability(limit);
    return Math.log(above)
        - Math.log1p(-limit)
        - Math.log(n + 1.0)
        - BinomialDistribution.of(n, limit).logProbability(k);
  }

  /**
   * The lower bound that holds at all times at once.
   *
   * @param seen hits out of trials so far
   * @param confidence 0 to 1 exclusive
   * @return with this confidence the true share was never below any of the bounds ever given; 0
   *     while nothing can be said, empty without trials
   */
  public static OptionalDouble lowerBound(Proportion seen, double confidence) {
    if (seen.trials() == 0) {
      return OptionalDouble.empty();
    }
    double enough = -Math.log(1 - confidence);
    double top = seen.estimate().orElseThrow();
    // The evidence against a limit falls as the limit rises to the share that was seen.
    double low = 1e-12;
    if (!(top > low) || logEvidenceAbove(seen, low) < enough) {
      return OptionalDouble.of(0);
    }
    double high = Math.min(top, 1 - 1e-12);
    return OptionalDouble.of(Bisection.solve(p -> -logEvidenceAbove(seen, p), -enough, low, high));
  }

  /**
   * The upper bound that holds at all times at once.
   *
   * @param seen hits out of trials so far
   * @param confidence 0 to 1 exclusive
   * @return the bound, 1 while nothing can be said, empty without trials
   */
  public static OptionalDouble upperBound(Proportion seen, double confidence) {
    OptionalDouble low =
        lowerBound(new Proportion(seen.trials() - seen.count(), seen.trials()), confidence);
    return low.isEmpty() ? low : OptionalDouble.of(1 - low.getAsDouble());
  }

  /**
   * How a campaign behaves that ends at the first trial after which the share is shown to be above
   * a limit, computed exactly.
   *
   * @param limit the limit, 0 to 1 exclusive
   * @param confidence 0 to 1 exclusive
   * @param share the true share
   * @param cap most trials
   * @return accept: chance of showing it; undecided: chance of reaching the cap; never a rejection
   */
  public static Sprt.Behaviour behaviour(double limit, double confidence, double share, int cap) {
    return walk(limit, confidence, share, cap, Double.POSITIVE_INFINITY).behaviour;
  }

  /**
   * Fewest trials to plan, as the cap, for a chance of showing it.
   *
   * @param limit the limit, 0 to 1 exclusive
   * @param confidence 0 to 1 exclusive
   * @param share the true share
   * @param power wanted chance
   * @param most most trials
   * @return number of trials, empty beyond the most
   */
  public static OptionalInt leastCap(
      double limit, double confidence, double share, double power, int most) {
    Walk walk = walk(limit, confidence, share, most, power);
    return walk.behaviour.accept() >= power ? OptionalInt.of(walk.trials) : OptionalInt.empty();
  }

  private record Walk(int trials, Sprt.Behaviour behaviour) {}

  /** From trial to trial, until the chance of having shown it is wanted no greater. */
  private static Walk walk(double limit, double confidence, double share, int cap, double wanted) {
    double enough = -Math.log(1 - confidence);
    double[] live = {1};
    double accept = 0;
    double mean = 0;
    int n = 0;
    while (n < cap && accept < wanted) {
      n++;
      double[] next = new double[n + 1];
      double going = 0;
      for (int hits = 0; hits < live.length; hits++) {
        going += live[hits];
        next[hits] += live[hits] * (1 - share);
        next[hits + 1] += live[hits] * share;
      }
      mean += going;
      // With more hits the evidence only grows: the shown ones are those at the top.
      for (int hits = n; hits > n * limit; hits--) {
        if (logEvidenceAbove(new Proportion(hits, n), limit) < enough) {
          break;
        }
        accept += next[hits];
        next[hits] = 0;
      }
      live = next;
    }
    return new Walk(n, new Sprt.Behaviour(accept, 0, 1 - accept, mean));
  }
}
