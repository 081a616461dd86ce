package org.stopwell.harness.rare;

import java.util.Arrays;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * A small probability from repeated independent runs.
 *
 * @param probability mean of the runs
 * @param low lower end of the interval; 0 when a run found nothing
 * @param high upper end of the interval
 * @param runs runs that count
 */
public record Estimate(double probability, double low, double high, int runs) {
  /** Two-sided coverage of the interval. */
  public static final double CONFIDENCE = 0.95;

  /**
   * Mean and interval. The runs are independent, equally distributed and unbiased. Their logarithm
   * is nearly normal, so the interval is a t interval of the mean of the logarithms, moved by half
   * of their variance to the mean of the runs: Cox's interval of a log-normal mean (Land,
   * Technometrics 1972;14:145, as quoted by Zhou and Gao, Statistics in Medicine 1997;16:783, from
   * memory), with a t quantile in place of the normal one.
   *
   * @param runs estimates of the runs, at least two
   * @return the estimate; when a run found nothing, a t interval of the mean from 0
   */
  static Estimate of(double[] runs) {
    int n = runs.length;
    double t = TDistribution.of(n - 1).inverseSurvivalProbability((1 - CONFIDENCE) / 2);
    double mean = Arrays.stream(runs).average().orElseThrow();
    if (Arrays.stream(runs).anyMatch(p -> p == 0)) {
      return new Estimate(mean, 0, mean + t * Math.sqrt(variance(runs) / n), n);
    }
    double[] logs = Arrays.stream(runs).map(Math::log).toArray();
    double v = variance(logs);
    double centre = Arrays.stream(logs).average().orElseThrow() + v / 2;
    double half = t * Math.sqrt(v / n + v * v / (2.0 * (n - 1)));
    return new Estimate(mean, Math.exp(centre - half), Math.exp(centre + half), n);
  }

  private static double variance(double[] values) {
    double mean = Arrays.stream(values).average().orElseThrow();
    return Arrays.stream(values).map(x -> (x - mean) * (x - mean)).sum() / (values.length - 1);
  }
}
