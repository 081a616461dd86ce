package org.stopwell.harness.stats;

import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * Where a stated share of all stops lies, with a stated confidence, when stop errors are normal:
 * mean ± k s. Factors as in ISO 16269-6, exact to at least six digits.
 */
public final class ToleranceInterval {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
  private static final int PANELS = 400;
  private static final double MOST_FACTOR = 1e9;

  private ToleranceInterval() {}

  /**
   * The two-sided interval.
   *
   * @param errors the numbers
   * @param share share of the population within, 0 to 1 exclusive
   * @param confidence 0 to 1 exclusive
   * @return the interval in the unit of the numbers, empty with fewer than two, with all equal, and
   *     where the factor cannot be given
   */
  public static Optional<Interval> twoSided(Moments errors, double share, double confidence) {
    double s = errors.standardDeviation().orElse(0);
    if (!(s > 0)) {
      return Optional.empty();
    }
    return around(
        errors.mean().orElseThrow(), twoSidedFactor(errors.count(), share, confidence) * s);
  }

  /**
   * The two-sided interval of numbers that come in groups, such as repeats in canals: mean ± k s_R
   * for one number of a group drawn anew, with the factor of as many numbers as there are groups.
   * That is exact when all of the spread lies between groups, and careful otherwise.
   *
   * @param groups the numbers of each group
   * @param share share of the population within, 0 to 1 exclusive
   * @param confidence 0 to 1 exclusive
   * @return the interval in the unit of the numbers, empty when the spread cannot be split
   */
  public static Optional<Interval> overGroups(
      List<Moments> groups, double share, double confidence) {
    Moments all = groups.stream().reduce(Moments.NONE, Moments::plus);
    return OneWay.of(groups)
        .filter(split -> split.reproducibility() > 0)
        .flatMap(
            split ->
                around(
                    all.mean().orElseThrow(),
                    twoSidedFactor(split.groups(), share, confidence) * split.reproducibility()));
  }

  private static Optional<Interval> around(double mean, double half) {
    return half < Double.POSITIVE_INFINITY
        ? Optional.of(new Interval(mean - half, mean + half))
        : Optional.empty();
  }

  /**
   * The exact two-sided factor k: the solution of √(2n/π) ∫₀^∞ P(χ²ₙ₋₁ ≥ (n − 1) r²/k²) e^(−n x²/2)
   * dx = confidence, where Φ(x + r) − Φ(x − r) = share (Odeh 1978, Communications in Statistics B7,
   * 183; ISO 16269-6).
   *
   * @param n how many numbers, at least 2
   * @param share share of the population within, 0 to 1 exclusive
   * @param confidence 0 to 1 exclusive
   * @return k; infinite above a thousand million, which no stops can support
   */
  public static double twoSidedFactor(long n, double share, double confidence) {
    check(n, share, confidence);
    double reach = 8 / Math.sqrt((double) n);
    double[] radius = new double[PANELS + 1];
    for (int i = 0; i <= PANELS; i++) {
      double x = reach * i / PANELS;
      radius[i] =
          Bisection.solve(
              r -> NORMAL.cumulativeProbability(x + r) - NORMAL.cumulativeProbability(x - r),
              share,
              0,
              x + 40);
    }
    ChiSquaredDistribution chi = ChiSquaredDistribution.of(n - 1.0);
    DoubleUnaryOperator reached =
        k -> {
          double h = reach / PANELS;
          double sum = 0;
          for (int i = 0; i <= PANELS; i++) {
            double x = h * i;
            double ratio = radius[i] / k;
            double weight = i == 0 || i == PANELS ? 1 : i % 2 == 0 ? 2 : 4;
            sum +=
                weight
                    * chi.survivalProbability((n - 1) * ratio * ratio)
                    * Math.exp(-n * x * x / 2);
          }
          return Math.sqrt(2 * n / Math.PI) * sum * h / 3;
        };
    double most = 1;
    while (most <= MOST_FACTOR && reached.applyAsDouble(most) < confidence) {
      most *= 10;
    }
    return most > MOST_FACTOR
        ? Double.POSITIVE_INFINITY
        : Bisection.solve(reached, confidence, most == 1 ? 1e-6 : most / 10, most);
  }

  private static void check(long n, double share, double confidence) {
    if (n < 2 || !(share > 0 && share < 1) || !(confidence > 0 && confidence < 1)) {
      throw new IllegalArgumentException(
          "n "
              + n
              + " must be at least 2, share "
              + share
              + " and confidence "
              + confidence
              + " between 0 and 1");
    }
  }
}
