package org.stopwell.harness.stats;

import java.util.List;
import java.util.Optional;
import org.apache.commons.statistics.distribution.BetaDistribution;

/**
 * A share counted in clusters: repeats in one canal are worth fewer trials than so many canals.
 *
 * @param total all trials together
 * @param clusters how many clusters have trials
 * @param effectiveTrials how many independent trials they are worth, at most the number of trials
 */
public record Clusters(Proportion total, int clusters, double effectiveTrials) {
  /**
   * Sums up clusters. The design effect is the variance of the ratio estimator between clusters
   * over that of independent trials. Without any miss, or any hit, it cannot be estimated: then
   * each cluster counts as one trial, the most careful answer.
   *
   * @param counts one count per cluster
   * @return the sum, empty with fewer than two clusters
   */
  public static Optional<Clusters> of(List<Proportion> counts) {
    List<Proportion> filled = counts.stream().filter(c -> c.trials() > 0).toList();
    if (filled.size() < 2) {
      return Optional.empty();
    }
    long hits = filled.stream().mapToLong(Proportion::count).sum();
    long trials = filled.stream().mapToLong(Proportion::trials).sum();
    Proportion total = new Proportion(hits, trials);
    if (hits == 0 || hits == trials) {
      return Optional.of(new Clusters(total, filled.size(), filled.size()));
    }
    double p = (double) hits / trials;
    double squares =
        filled.stream().mapToDouble(c -> Math.pow(c.count() - p * c.trials(), 2)).sum();
    double variance = filled.size() / (filled.size() - 1.0) * squares / trials / trials;
    double effect = variance / (p * (1 - p) / trials);
    return Optional.of(
        new Clusters(
            total, filled.size(), Math.min((double) trials, trials / Math.max(effect, 1e-9))));
  }

  /**
   * The interval of Clopper and Pearson on the effective number of trials (Korn and Graubard 1998,
   * Survey Methodology 24, 193, without their t correction).
   *
   * @param confidence two-sided confidence, 0 to 1 exclusive
   * @return the interval
   */
  public Interval interval(double confidence) {
    double tail = (1 - confidence) / 2;
    double n = effectiveTrials;
    double k = total.estimate().orElseThrow() * n;
    double low =
        k <= 0
            ? 0
            : Bisection.solve(BetaDistribution.of(k, n - k + 1)::cumulativeProbability, tail, 0, 1);
    BetaDistribution above = k >= n ? null : BetaDistribution.of(k + 1, n - k);
    double high =
        above == null ? 1 : Bisection.solve(p -> -above.survivalProbability(p), -tail, 0, 1);
    return new Interval(low, high);
  }

  /**
   * How many independent trials clustered ones are worth: n / (1 + (m − 1) ρ).
   *
   * @param trials all trials, n
   * @param perCluster trials in each cluster, m
   * @param correlation intraclass correlation ρ, 0 to 1
   * @return effective number of trials
   */
  public static double effectiveTrials(double trials, double perCluster, double correlation) {
    if (!(perCluster >= 1 && correlation >= 0 && correlation <= 1)) {
      throw new IllegalArgumentException(
          perCluster
              + " trials per cluster must be at least 1, intraclass correlation "
              + correlation
              + " 0 to 1");
    }
    return trials / (1 + (perCluster - 1) * correlation);
  }
}
