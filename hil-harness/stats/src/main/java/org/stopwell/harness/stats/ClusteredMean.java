package org.stopwell.harness.stats;

import java.math.BigInteger;
import java.util.List;
import java.util.Optional;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * A mean over clusters of trials: the ratio of sums to counts, whose variance is that between
 * clusters, m/(m − 1) Σ(y_i − n_i ȳ)² / n² (Cochran, Sampling Techniques, 3rd edition, 1977, 6.3
 * and 9A). With equal clusters it is Student's interval on the means of the clusters.
 */
public final class ClusteredMean {
  private ClusteredMean() {}

  /**
   * The interval of the mean with Student's t of as many clusters less one.
   *
   * @param clusters the moments of each cluster
   * @param confidence two-sided, between 0 and 1
   * @return empty with fewer than two clusters or when nothing lies between them
   */
  public static Optional<Interval> interval(List<Moments> clusters, double confidence) {
    List<Moments> filled = clusters.stream().filter(c -> c.count() > 0).toList();
    Moments all = filled.stream().reduce(Moments.NONE, Moments::plus);
    BigInteger n = BigInteger.valueOf(all.count());
    BigInteger squares = BigInteger.ZERO;
    for (Moments c : filled) {
      BigInteger off =
          c.sum().multiply(n).subtract(all.sum().multiply(BigInteger.valueOf(c.count())));
      squares = squares.add(off.multiply(off));
    }
    if (filled.size() < 2 || squares.signum() == 0) {
      return Optional.empty();
    }
    int m = filled.size();
    double error =
        Math.sqrt(m / (m - 1.0) * squares.doubleValue()) / all.count() / (double) all.count();
    double half =
        TDistribution.of(m - 1.0).inverseSurvivalProbability((1 - confidence) / 2) * error;
    double mean = all.mean().orElseThrow();
    return Optional.of(new Interval(mean - half, mean + half));
  }
}
