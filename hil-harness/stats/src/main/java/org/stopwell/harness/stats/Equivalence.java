package org.stopwell.harness.stats;

import java.util.Optional;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * Two one-sided tests (Schuirmann 1987, Journal of Pharmacokinetics and Biopharmaceutics 15, 657):
 * a difference is shown to lie within a margin on both sides, or below it on one side.
 *
 * @param difference the estimated difference
 * @param standardError its standard error
 * @param freedom degrees of freedom
 * @param margin the margin, above 0, in the same unit
 */
public record Equivalence(double difference, double standardError, double freedom, double margin) {
  /**
   * Checks the numbers.
   *
   * @throws IllegalArgumentException when one is out of its range or not a number
   */
  public Equivalence {
    if (!(standardError > 0 && freedom > 0 && margin > 0) || Double.isNaN(difference)) {
      throw new IllegalArgumentException(
          "difference "
              + difference
              + ", standard error "
              + standardError
              + ", degrees of freedom "
              + freedom
              + ", margin "
              + margin
              + ": all but the first must be above 0");
    }
  }

  /**
   * The mean of one row of numbers (or of paired differences) against zero.
   *
   * @param numbers the numbers
   * @param margin the margin, above 0, in the same unit
   * @return the test, empty with fewer than two numbers or when all are equal
   */
  public static Optional<Equivalence> ofMean(Moments numbers, double margin) {
    double s = numbers.standardDeviation().orElse(0);
    return s > 0
        ? Optional.of(
            new Equivalence(
                numbers.mean().orElseThrow(),
                s / Math.sqrt((double) numbers.count()),
                numbers.count() - 1.0,
                margin))
        : Optional.empty();
  }

  /**
   * The means of two independent rows against each other, with Welch's degrees of freedom.
   *
   * @param mean1 first mean
   * @param s1 first standard deviation
   * @param n1 first count
   * @param mean2 second mean
   * @param s2 second standard deviation
   * @param n2 second count
   * @param margin the margin, above 0, in the same unit
   * @return the test
   */
  public static Equivalence welch(
      double mean1, double s1, long n1, double mean2, double s2, long n2, double margin) {
    double v1 = s1 * s1 / n1;
    double v2 = s2 * s2 / n2;
    double freedom = (v1 + v2) * (v1 + v2) / (v1 * v1 / (n1 - 1) + v2 * v2 / (n2 - 1));
    return new Equivalence(mean1 - mean2, Math.sqrt(v1 + v2), freedom, margin);
  }

  /**
   * Distance from the lower margin in standard errors.
   *
   * @return t of the lower test
   */
  public double lowerT() {
    return (difference + margin) / standardError;
  }

  /**
   * Distance from the upper margin in standard errors.
   *
   * @return t of the upper test, negative inside
   */
  public double upperT() {
    return (difference - margin) / standardError;
  }

  /**
   * How likely this is when the true difference is at or below the lower margin.
   *
   * @return p value of the lower test: that of non-inferiority where less is worse
   */
  public double lowerP() {
    return TDistribution.of(freedom).survivalProbability(lowerT());
  }

  /**
   * How likely this is when the true difference is at or above the upper margin.
   *
   * @return p value of the upper test: that of non-inferiority where more is worse
   */
  public double upperP() {
    return TDistribution.of(freedom).cumulativeProbability(upperT());
  }

  /**
   * The interval that lies within the margins exactly when both tests reject.
   *
   * @param alpha level of each one-sided test
   * @return difference ± t(1 − alpha) standard errors: confidence 1 − 2 alpha
   */
  public Interval interval(double alpha) {
    double half = TDistribution.of(freedom).inverseSurvivalProbability(alpha) * standardError;
    return new Interval(difference - half, difference + half);
  }

  /**
   * Whether both tests reject.
   *
   * @param alpha level of each one-sided test
   * @return true when the difference is shown to lie within the margins
   */
  public boolean isEquivalent(double alpha) {
    return lowerP() < alpha && upperP() < alpha;
  }
}
