package org.stopwell.harness.stats;

import java.util.Arrays;
import java.util.Collection;
import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.statistics.distribution.TDistribution;

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
    double[] means = means(canals);
    int m = means.length;
    if (m < 2 || Arrays.stream(means).distinct().count() < 2) {
      return Optional.empty();
    }
    double mean = Arrays.stream(means).average().orElseThrow();
    double squares = Arrays.stream(means).map(x -> (x - mean) * (x - mean)).sum();
    double error = Math.sqrt(squares / (m - 1.0) / m);
    double half =
        TDistribution.of(m - 1.0).inverseSurvivalProbability((1 - confidence) / 2) * error;
    return Optional.of(new Interval(mean - half, mean + half));
  }

  private static double[] means(Collection<Moments> canals) {
    return canals.stream()
        .filter(c -> c.count() > 0)
        .mapToDouble(c -> c.mean().orElseThrow())
        .toArray();
  }
}
