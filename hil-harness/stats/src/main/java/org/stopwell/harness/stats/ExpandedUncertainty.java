package org.stopwell.harness.stats;

import java.util.List;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * A standard uncertainty and its degrees of freedom, from which the interval that covers the value
 * 95 times in 100 follows (JCGM 100:2008, annex G). With few readings the factor is not 2: with
 * three readings k = 2 covers 82 %.
 *
 * @param standard combined standard uncertainty, in the unit of the value
 * @param freedom effective degrees of freedom, whole, at most {@link #MOST_FREEDOM}
 */
public record ExpandedUncertainty(double standard, int freedom) {
  /** Stated coverage of the expanded uncertainty. */
  public static final double COVERAGE = 0.95;

  /** More degrees of freedom change the factor by less than 0.003. */
  public static final int MOST_FREEDOM = 1_000;

  /** Keeps a whole number whole when it is cut down, G.4.1. */
  private static final double ROUNDING = 1e-9;

  /** Refuses what is no uncertainty. */
  public ExpandedUncertainty {
    if (!(standard >= 0 && freedom >= 1 && freedom <= MOST_FREEDOM)) {
      throw new IllegalArgumentException(
          standard + " with " + freedom + " degrees of freedom is not an uncertainty");
    }
  }

  /**
   * One part of a combined uncertainty.
   *
   * @param standard its standard uncertainty, in the unit of the value
   * @param freedom its degrees of freedom; infinite when it is known
   */
  public record Part(double standard, double freedom) {
    /**
     * The mean of independent readings (4.2.3).
     *
     * @param deviation standard deviation of one reading
     * @param readings how many, at least 2
     * @return s / √n with n − 1 degrees of freedom
     */
    public static Part ofMean(double deviation, int readings) {
      return new Part(deviation / Math.sqrt((double) readings), readings - 1.0);
    }

    /**
     * An error that can be anywhere within limits (4.3.7).
     *
     * @param limit greatest error either way
     * @return a / √3, known
     */
    public static Part within(double limit) {
      return new Part(limit / Math.sqrt(3), Double.POSITIVE_INFINITY);
    }
  }

  /**
   * Combines independent parts: root of the sum of squares, and the degrees of freedom of Welch and
   * Satterthwaite, cut down to a whole number (G.4.1).
   *
   * @param parts the parts
   * @return the combined uncertainty
   */
  public static ExpandedUncertainty of(List<Part> parts) {
    double variance = parts.stream().mapToDouble(p -> p.standard * p.standard).sum();
    double share = parts.stream().mapToDouble(p -> Math.pow(p.standard, 4) / p.freedom).sum();
    double freedom = share > 0 ? variance * variance / share + ROUNDING : MOST_FREEDOM;
    return new ExpandedUncertainty(
        Math.sqrt(variance), (int) Math.max(1, Math.min(MOST_FREEDOM, freedom)));
  }

  /**
   * The uncertainty of a sum or difference of two independent values.
   *
   * @param other the uncertainty of the other value
   * @return the combined uncertainty
   */
  public ExpandedUncertainty with(ExpandedUncertainty other) {
    return of(List.of(new Part(standard, freedom), new Part(other.standard, other.freedom)));
  }

  /**
   * The factor of the expanded uncertainty.
   *
   * @return Student's t for 95 % coverage
   */
  public double coverageFactor() {
    return coverageFactor(COVERAGE);
  }

  /**
   * The factor for a coverage.
   *
   * @param coverage two-sided, 0 to 1 exclusive
   * @return Student's t
   */
  public double coverageFactor(double coverage) {
    return TDistribution.of(freedom).inverseSurvivalProbability((1 - coverage) / 2);
  }

  /**
   * The expanded uncertainty.
   *
   * @return half width of the interval for 95 % coverage, in the unit of the value
   */
  public double expanded() {
    return coverageFactor() * standard;
  }

  /**
   * The smallest true value that such a measurement tells from zero, most of the time.
   *
   * @param power how often it must be told from zero, 0.5 to 1 exclusive
   * @return (t(97.5 %) + t(power)) times the standard uncertainty, in the unit of the value
   */
  public double detectable(double power) {
    double reach = TDistribution.of(freedom).inverseSurvivalProbability(1 - power);
    return (coverageFactor() + reach) * standard;
  }
}
