package org.stopwell.harness.stats;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.MathContext;
import java.util.List;
import java.util.Optional;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;

/**
 * One-way analysis of variance with random groups: how much of the spread lies between canals (or
 * days, or rigs) and how much within one. The basic model of ISO 5725-2. Groups may differ in size.
 * Sums are exact before they are rounded once.
 *
 * @param groups how many groups have numbers
 * @param count how many numbers in all
 * @param betweenSquares sum of squares between groups, unit squared
 * @param withinSquares sum of squares within groups, unit squared
 * @param groupSize the size that a balanced design would have: n₀ = (N − Σnᵢ²/N) / (groups − 1)
 */
public record OneWay(
    int groups, long count, double betweenSquares, double withinSquares, double groupSize) {
  private static final MathContext DIGITS = new MathContext(60);

  /**
   * Splits the spread of grouped numbers.
   *
   * @param groups the numbers of each group; empty groups are left out
   * @return the split, empty unless there are two groups and one of them has two numbers
   */
  public static Optional<OneWay> of(List<Moments> groups) {
    List<Moments> filled = groups.stream().filter(g -> g.count() > 0).toList();
    Moments all = filled.stream().reduce(Moments.NONE, Moments::plus);
    if (filled.size() < 2 || all.count() <= filled.size()) {
      return Optional.empty();
    }
    BigDecimal perGroup = BigDecimal.ZERO;
    double squaredSizes = 0;
    for (Moments group : filled) {
      perGroup = perGroup.add(squareOverCount(group));
      squaredSizes += (double) group.count() * group.count();
    }
    return Optional.of(
        new OneWay(
            filled.size(),
            all.count(),
            perGroup.subtract(squareOverCount(all)).doubleValue(),
            new BigDecimal(all.sumOfSquares()).subtract(perGroup).doubleValue(),
            (all.count() - squaredSizes / all.count()) / (filled.size() - 1)));
  }

  private static BigDecimal squareOverCount(Moments m) {
    BigInteger square = m.sum().multiply(m.sum());
    return new BigDecimal(square).divide(BigDecimal.valueOf(m.count()), DIGITS);
  }

  /**
   * Degrees of freedom between groups.
   *
   * @return groups − 1
   */
  public int betweenFreedom() {
    return groups - 1;
  }

  /**
   * Degrees of freedom within groups.
   *
   * @return numbers − groups
   */
  public long withinFreedom() {
    return count - groups;
  }

  /**
   * Mean square between groups.
   *
   * @return unit squared
   */
  public double betweenMeanSquare() {
    return betweenSquares / betweenFreedom();
  }

  /**
   * Mean square within groups.
   *
   * @return unit squared
   */
  public double withinMeanSquare() {
    return withinSquares / withinFreedom();
  }

  /**
   * Repeatability standard deviation s_r (ISO 5725-2): within one group.
   *
   * @return in the unit of the numbers
   */
  public double repeatability() {
    return Math.sqrt(withinMeanSquare());
  }

  /**
   * Standard deviation between groups: s_L² = (MS between − MS within) / n₀, 0 when negative.
   *
   * @return in the unit of the numbers
   */
  public double betweenDeviation() {
    return Math.sqrt(Math.max(0, (betweenMeanSquare() - withinMeanSquare()) / groupSize));
  }

  /**
   * Reproducibility standard deviation s_R (ISO 5725-2): s_R² = s_L² + s_r².
   *
   * @return in the unit of the numbers
   */
  public double reproducibility() {
    return Math.hypot(repeatability(), betweenDeviation());
  }

  /**
   * The exact interval of the repeatability: s_r √(ν/χ²).
   *
   * @param confidence two-sided confidence, 0 to 1 exclusive
   * @return the interval, empty when there is no spread within
   */
  public Optional<Interval> repeatabilityInterval(double confidence) {
    if (!(withinSquares > 0)) {
      return Optional.empty();
    }
    ChiSquaredDistribution chi = ChiSquaredDistribution.of((double) withinFreedom());
    double tail = (1 - confidence) / 2;
    return Optional.of(
        new Interval(
            Math.sqrt(withinSquares / chi.inverseSurvivalProbability(tail)),
            Math.sqrt(withinSquares / chi.inverseCumulativeProbability(tail))));
  }
}
