package org.stopwell.harness.stats;

import org.apache.commons.statistics.distribution.ChiSquaredDistribution;

/**
 * The known answer of a sentinel as a bench teaches it: mean and standard deviation of repeated
 * trials, each with the interval that holds the true value with a given confidence if the results
 * are normal and independent.
 *
 * @param trials how many trials taught it, at least 2
 * @param mean mean of the results, µm
 * @param deviation their standard deviation with n − 1, µm
 * @param meanInterval interval of the mean, µm
 * @param deviationInterval interval of the standard deviation, µm
 */
public record KnownAnswer(
    int trials, double mean, double deviation, Interval meanInterval, Interval deviationInterval) {

  /**
   * Learns a known answer.
   *
   * @param results remaining distances at rest, µm; at least 2
   * @param confidence of both intervals, such as 0.95
   * @return the known answer
   */
  public static KnownAnswer of(Moments results, double confidence) {
    int n = Math.toIntExact(results.count());
    double s = results.standardDeviation().orElseThrow();
    ChiSquaredDistribution chi = ChiSquaredDistribution.of(n - 1.0);
    double tail = (1 - confidence) / 2;
    return new KnownAnswer(
        n,
        results.mean().orElseThrow(),
        s,
        results.meanInterval(confidence).orElseThrow(),
        new Interval(
            s * Math.sqrt((n - 1) / chi.inverseSurvivalProbability(tail)),
            s * Math.sqrt((n - 1) / chi.inverseCumulativeProbability(tail))));
  }

  /**
   * The mean as a plan states it.
   *
   * @return whole µm
   */
  public int expectedMicrons() {
    return (int) Math.round(mean);
  }

  /**
   * The standard deviation as a plan states it.
   *
   * @return whole µm, at least 1
   */
  public int deviationMicrons() {
    return Math.max(1, (int) Math.round(deviation));
  }

  /**
   * Whether fresh trials agree with this known answer.
   *
   * @param expectedMicrons known answer of a plan, µm
   * @param expectedDeviationMicrons its standard deviation, µm
   * @param learnedFrom trials that taught the plan
   * @return the larger of two distances: of the means in standard errors of their difference, and
   *     of the logarithms of the deviations in theirs; the rounding of a plan to whole µm is
   *     allowed
   */
  public double distance(int expectedMicrons, int expectedDeviationMicrons, int learnedFrom) {
    double both = 1.0 / trials + 1.0 / learnedFrom;
    double off = Math.max(0, Math.abs(mean - expectedMicrons) - 0.5);
    double means = off / (expectedDeviationMicrons * Math.sqrt(both));
    double wide = Math.max(0, Math.abs(deviation - expectedDeviationMicrons) - 0.5);
    double spreads =
        Math.log1p(wide / Math.min(deviation, expectedDeviationMicrons)) / Math.sqrt(both / 2);
    return Math.max(means, spreads);
  }
}
