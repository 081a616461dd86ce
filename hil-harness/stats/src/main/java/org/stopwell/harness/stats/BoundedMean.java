package org.stopwell.harness.stats;

import java.util.Arrays;
import java.util.Collection;

/**
 * One-sided bounds on the mean of independent numbers between 0 and 1, such as the share of
 * successes in each canal. The distribution of the numbers does not matter.
 *
 * <p>The lower bound is the point that the weighted sum Σ D_i x_i + D_0 · 0 stays below with the
 * chance that the confidence leaves, with weights (D_0 … D_m) uniform on all that add up to 1
 * (Gaffke 2005; Learned-Miller and Thomas 2019; Phan, Thomas and Learned-Miller 2021, "Towards
 * practical mean bounds for small samples"). The upper bound is the lower one of 1 − x. For numbers
 * that are all 0 or 1 the bounds are those of Clopper and Pearson. Both rise with every number. Not
 * proven in general; no violation is known.
 */
public final class BoundedMean {
  private BoundedMean() {}

  /**
   * The lower bound: with this confidence the true mean is not below it.
   *
   * @param numbers independent numbers from 0 to 1, at least one
   * @param confidence one-sided confidence, 0 to 1 exclusive
   * @return 0 to 1
   */
  public static double lower(double[] numbers, double confidence) {
    check(numbers);
    if (!(confidence > 0 && confidence < 1)) {
      throw new IllegalArgumentException("confidence " + confidence + ", must be above 0, below 1");
    }
    double greatest = Arrays.stream(numbers).max().orElseThrow();
    return greatest == 0
        ? 0
        : Bisection.solve(mean -> chance(numbers, mean), 1 - confidence, 0, greatest);
  }

  /**
   * The upper bound: with this confidence the true mean is not above it.
   *
   * @param numbers independent numbers from 0 to 1, at least one
   * @param confidence one-sided confidence, 0 to 1 exclusive
   * @return 0 to 1
   */
  public static double upper(double[] numbers, double confidence) {
    return 1 - lower(others(numbers), confidence);
  }

  /**
   * Whether the lower bound reaches a claimed mean. Faster than the bound itself.
   *
   * @param numbers independent numbers from 0 to 1, at least one
   * @param confidence one-sided confidence, 0 to 1 exclusive
   * @param claimed the claimed mean, 0 to 1
   * @return true when the mean is shown to be at least the claimed one
   */
  public static boolean isAtLeast(double[] numbers, double confidence, double claimed) {
    check(numbers);
    return chance(numbers, claimed) <= 1 - confidence;
  }

  /**
   * The share of hits in each canal, as one number a canal, whatever its number of trials.
   *
   * @param canals hits out of trials of each canal
   * @return the shares of those that have trials
   */
  public static double[] shares(Collection<Proportion> canals) {
    return canals.stream()
        .filter(c -> c.trials() > 0)
        .mapToDouble(c -> c.estimate().orElseThrow())
        .toArray();
  }

  /** Each number taken from 1: a share of hits becomes that of misses. */
  static double[] others(double[] numbers) {
    return Arrays.stream(numbers).map(x -> 1 - x).toArray();
  }

  /**
   * The chance that Σ D_i x_i is at most a mean t. Uniform weights are exponential numbers over
   * their sum, so this is the chance that Σ E_i (x_i − t) ≤ 0: those above t, p E, run against
   * those below, n E'. Of one such pair the first is the smaller with chance n / (p + n), and the
   * exponential has no memory: what is left of the greater is a fresh one. So the chance follows
   * pair by pair from sums of positive numbers only, with no digit lost.
   */
  private static double chance(double[] numbers, double t) {
    double[] above = new double[numbers.length];
    double[] below = new double[numbers.length + 1];
    int over = 0;
    int under = 0;
    for (double x : numbers) {
      if (x > t) {
        above[over++] = x - t;
      } else if (x < t) {
        below[under++] = t - x;
      }
    }
    // The weight D_0 of a number 0, the worst that one more could have been.
    if (t > 0) {
      below[under++] = t;
    }
    if (over == 0) {
      return 1;
    }
    // chance[j]: the numbers above that are passed so far lose against the first j below.
    double[] chance = new double[under + 1];
    Arrays.fill(chance, 1, under + 1, 1);
    for (int i = 0; i < over; i++) {
      double p = above[i];
      for (int j = 1; j <= under; j++) {
        double n = below[j - 1];
        chance[j] = (n * chance[j] + p * chance[j - 1]) / (p + n);
      }
    }
    return chance[under];
  }

  private static void check(double[] numbers) {
    if (numbers.length == 0) {
      throw new IllegalArgumentException("no numbers, must be at least one");
    }
    for (double x : numbers) {
      if (!(x >= 0 && x <= 1)) {
        throw new IllegalArgumentException("number " + x + ", must be 0 to 1");
      }
    }
  }
}
