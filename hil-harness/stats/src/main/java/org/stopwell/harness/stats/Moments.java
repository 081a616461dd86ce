package org.stopwell.harness.stats;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.MathContext;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.LongStream;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * Count, sum and sum of squares of whole numbers, kept exactly: adding in any order and merging in
 * any grouping gives the same bytes, and no digit is lost to a large mean.
 *
 * @param count how many numbers
 * @param sum their sum
 * @param sumOfSquares sum of their squares
 */
public record Moments(long count, BigInteger sum, BigInteger sumOfSquares) {
  /** No numbers yet. */
  public static final Moments NONE = new Moments(0, BigInteger.ZERO, BigInteger.ZERO);

  /**
   * The moments of a row of numbers.
   *
   * @param values whole numbers, such as stop errors in µm
   * @return their moments
   */
  public static Moments of(LongStream values) {
    return values.mapToObj(Moments::ofOne).reduce(NONE, Moments::plus);
  }

  /**
   * The moments of the same number several times.
   *
   * @param value the number
   * @param times how often, 0 or more
   * @return its moments
   */
  public static Moments of(long value, long times) {
    BigInteger v = BigInteger.valueOf(value);
    BigInteger n = BigInteger.valueOf(times);
    return new Moments(times, v.multiply(n), v.multiply(v).multiply(n));
  }

  private static Moments ofOne(long value) {
    return of(value, 1);
  }

  /**
   * Both rows of numbers together.
   *
   * @param other another row
   * @return the moments of all
   */
  public Moments plus(Moments other) {
    return new Moments(
        count + other.count, sum.add(other.sum), sumOfSquares.add(other.sumOfSquares));
  }

  /**
   * The arithmetic mean.
   *
   * @return in the unit of the numbers, empty without numbers
   */
  public OptionalDouble mean() {
    return count == 0
        ? OptionalDouble.empty()
        : OptionalDouble.of(
            new BigDecimal(sum)
                .divide(BigDecimal.valueOf(count), MathContext.DECIMAL128)
                .doubleValue());
  }

  /**
   * The standard deviation with n − 1: s² = (n Σx² − (Σx)²) / (n (n − 1)).
   *
   * @return in the unit of the numbers, 0 when all are equal, empty with fewer than two numbers
   */
  public OptionalDouble standardDeviation() {
    if (count < 2) {
      return OptionalDouble.empty();
    }
    BigInteger n = BigInteger.valueOf(count);
    BigInteger numerator = n.multiply(sumOfSquares).subtract(sum.multiply(sum));
    return OptionalDouble.of(
        new BigDecimal(numerator)
            .divide(new BigDecimal(n.multiply(n.subtract(BigInteger.ONE))), MathContext.DECIMAL128)
            .sqrt(MathContext.DECIMAL128)
            .doubleValue());
  }

  /**
   * Student's interval of the mean: mean ± t(n − 1) s / √n.
   *
   * @param confidence two-sided confidence, 0 to 1 exclusive
   * @return the interval, empty with fewer than two numbers or when all are equal
   */
  public Optional<Interval> meanInterval(double confidence) {
    double s = standardDeviation().orElse(0);
    if (!(s > 0)) {
      return Optional.empty();
    }
    double t = TDistribution.of(count - 1.0).inverseSurvivalProbability((1 - confidence) / 2);
    double half = t * s / Math.sqrt((double) count);
    double mean = mean().orElseThrow();
    return Optional.of(new Interval(mean - half, mean + half));
  }
}
