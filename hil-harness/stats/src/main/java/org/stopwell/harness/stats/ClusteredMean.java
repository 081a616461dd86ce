package org.stopwell.harness.stats;

import java.util.Arrays;
import java.util.Collection;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A mean over canals with repeats: each canal counts as one number, its own mean, however many
 * trials it has. Student's interval of these means holds whatever the trials of one canal share.
 */
public final class ClusteredMean {
  private ClusteredMean() {}

  /**
   * The mean of the means of the canals.
   *
   * @param canals the moments of each canal
   * @return empty without trials
   */
  public static OptionalDouble mean(Collection<Moments> canals) {
    return Arrays.stream(means(canals)).average();
  }

  /**
   * Student's interval of the means of the canals, with as many degrees of freedom as canals less
   * one.
   *
   * @param canals the moments of each canal
   * @param confidence two-sided, between 0 and 1
   * @return empty with fewer than two canals or when all means are equal
   */
  public static Optional<Interval> interval(Collection<Moments> canals, double confidence) {
    return within(canals, 1).map(test -> test.interval((1 - confidence) / 2));
  }

  /**
   * The mean of the means of the canals against a margin on both sides of zero.
   *
   * @param canals the moments of each canal
   * @param margin the margin, above 0, in the unit of the numbers
   * @return empty with fewer than two canals or when all means are equal
   */
  public static Optional<Equivalence> within(Collection<Moments> canals, double margin) {
    double[] means = means(canals);
    int m = means.length;
    if (m < 2 || Arrays.stream(means).distinct().count() < 2) {
      return Optional.empty();
    }
    double mean = Arrays.stream(means).average().orElseThrow();
    double squares = Arrays.stream(means).map(x -> (x - mean) * (x - mean)).sum();
    return Optional.of(new Equivalence(mean, Math.sqrt(squares / (m - 1.0) / m), m - 1.0, margin));
  }

  private static double[] means(Collection<Moments> canals) {
    return canals.stream()
        .filter(c -> c.count() > 0)
        .mapToDouble(c -> c.mean().orElseThrow())
        .toArray();
  }
}
