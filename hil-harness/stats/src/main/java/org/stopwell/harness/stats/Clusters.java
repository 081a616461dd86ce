package org.stopwell.harness.stats;

import java.util.List;
import java.util.Optional;
import org.apache.commons.statistics.distribution.BetaDistribution;

/**
 * A share counted in clusters: repeats in one canal count less than trials in separate canals.
 *
 * @param total all trials together
 * @param clusters how many clusters have trials
 * @param effectiveTrials how many independent trials they are worth, at most the number of trials
 */
public record Clusters(Proportion total, int clusters, double effectiveTrials) {
  /**
   * Sums up clusters without a planned correlation.
   *
   * @param counts one count per cluster
   * @return the sum, empty with fewer than two clusters
   */
  public static Optional<Clusters> of(List<Proportion> counts) {
    List<Proportion> filled = counts.stream().filter(c -> c.trials() > 0).toList();
    if (filled.size() < 2) {
      return Optional.empty();
    }
    return Optional.of(of(filled, 0));
  }

  /**
   * Sums up clusters of a plan that says how much trials of one cluster agree. The design effect is
   * the greater of the one that the trials show and the one that the plan reckons with, 1 +
   * (Σn_i²/n − 1) ρ (Kish, Survey Sampling, 1965). Without any miss, or any hit, the trials show
   * none: then the plan's decides, and where the plan has none each cluster counts as one trial.
   *
   * @param counts one count per cluster, with at least one trial in all
   * @param correlation intraclass correlation ρ of the plan, 0 to 1; 0 when it says none
   * @return the sum
   */
  public static Clusters of(List<Proportion> counts, double correlation) {
    List<Proportion> filled = counts.stream().filter(c -> c.trials() > 0).toList();
    long hits = filled.stream().mapToLong(Proportion::count).sum();
    long trials = filled.stream().mapToLong(Proportion::trials).sum();
    Proportion total = new Proportion(hits, trials);
    boolean shown = filled.size() > 1 && hits > 0 && hits < trials;
    double kish = filled.stream().mapToDouble(c -> (double) c.trials() * c.trials()).sum() / trials;
    double planned = 1 + (kish - 1) * correlation;
    double effect =
        shown
            ? Math.max(Math.max(1, planned), shownEffect(filled, total))
            : correlation > 0 ? planned : (double) trials / filled.size();
    return new Clusters(total, filled.size(), trials / effect);
  }

  /**
   * The design effect that trials show: variance of the ratio estimator between clusters over that
   * of independent trials (Rao and Scott, Biometrics 48, 1992, 577).
   */
  static double shownEffect(List<Proportion> clusters, Proportion total) {
    double n = total.trials();
    double p = total.estimate().orElseThrow();
    double squares =
        clusters.stream().mapToDouble(c -> Math.pow(c.count() - p * c.trials(), 2)).sum();
    double variance = clusters.size() / (clusters.size() - 1.0) * squares / n / n;
    return variance / (p * (1 - p) / n);
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
   * The effective number of independent trials: n / (1 + (m − 1) ρ).
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
