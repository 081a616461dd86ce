package org.stopwell.harness.stats;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;

/**
 * How much of a spread lies between canals, days or rigs and how much within: random intercepts for
 * any number of factors, crossed or nested, balanced or not, beside fixed means of cells; by
 * restricted maximum likelihood.
 *
 * <p>The criterion is that of Bates, Mächler, Bolker and Walker, Journal of Statistical Software
 * 67(1), 2015, equations 39 to 42: for relative deviations θ, with LLᵀ = ΛZᵀZΛ + I and R the factor
 * of what is left of XᵀX, it is 2 ln|L| + 2 ln|R| + (n − p)(1 + ln(2π r²/(n − p))).
 *
 * @param count how many numbers
 * @param mean mean of the cell means, in the unit of the numbers
 * @param meanError standard error of that mean
 * @param deviations standard deviation between the levels of each factor, in its order; 0 where the
 *     data show none
 * @param residual standard deviation within
 * @param criterion −2 × the restricted log likelihood at the optimum
 * @param freedom degrees of freedom of the mean: the levels of the factor with the fewest, less
 *     one; a careful choice
 */
public record MixedModel(
    int count,
    double mean,
    double meanError,
    List<Double> deviations,
    double residual,
    double criterion,
    int freedom) {
  /** Largest number of random levels; use the export and a special program for more. */
  public static final int MOST_LEVELS = 300;

  /** Largest number of random levels with intervals, which take a thousand fits. */
  public static final int MOST_LEVELS_FOR_INTERVALS = 60;

  /** Copies the list. */
  public MixedModel {
    deviations = List.copyOf(deviations);
  }

  /**
   * Fits the model.
   *
   * @param numbers the numbers
   * @param factors for each random factor the level of each number, any whole numbers
   * @param cells for each number its fixed cell, any whole numbers; all equal for one mean
   * @return the fit; empty when there is no spread to split: fewer numbers than means and factors
   *     and one more, all equal within cells, a factor with one level or with a level for each
   *     number, or too many levels
   */
  public static Optional<MixedModel> fit(double[] numbers, List<int[]> factors, int[] cells) {
    Design design = Design.of(numbers, factors, cells);
    if (design == null) {
      return Optional.empty();
    }
    double[] theta = least(design, factors.size());
    // A deviation that the criterion does not miss is none.
    double least = design.at(theta).criterion;
    for (int k = 0; k < theta.length; k++) {
      double[] without = theta.clone();
      without[k] = 0;
      if (design.at(without).criterion <= least + 1e-9) {
        theta = without;
      }
    }
    Solution solution = design.at(theta);
    if (!(solution.residual > 0) || !Double.isFinite(solution.criterion)) {
      return Optional.empty();
    }
    List<Double> deviations = new ArrayList<>();
    for (double t : theta) {
      deviations.add(Math.abs(t) * solution.residual);
    }
    return Optional.of(
        new MixedModel(
            numbers.length,
            solution.mean + design.shift,
            solution.meanError,
            deviations,
            solution.residual,
            solution.criterion,
            factors.stream().mapToInt(f -> Levels.count(Levels.of(f))).min().orElseThrow() - 1));
  }

  private static double[] least(Design design, int factors) {
    double[] theta = new double[factors];
    Arrays.fill(theta, 1);
    // The criterion depends on squares of θ alone, so its least value needs no bound at 0.
    Simplex simplex = new Simplex(t -> design.at(t).criterion);
    for (int i = 0; i < 3; i++) {
      theta = simplex.least(theta, i == 0 ? 0.5 : 0.05);
    }
    return theta;
  }

  /**
   * Intervals of the standard deviations: all values at which the restricted likelihood, at its
   * best over the others, is not below its peak by more than chance allows (profile likelihood, one
   * degree of freedom; approximate where levels are few).
   *
   * @param numbers the numbers
   * @param factors as for {@link #fit}
   * @param cells as for {@link #fit}
   * @param confidence two-sided confidence, 0 to 1 exclusive
   * @return one interval per factor and one for the residual; empty when there is no fit, and with
   *     more than {@value #MOST_LEVELS_FOR_INTERVALS} levels
   */
  public static Optional<List<Interval>> intervals(
      double[] numbers, List<int[]> factors, int[] cells, double confidence) {
    Design design = Design.of(numbers, factors, cells);
    if (design == null || design.factorOf.length > MOST_LEVELS_FOR_INTERVALS) {
      return Optional.empty();
    }
    double[] start = least(design, factors.size());
    Solution best = design.at(start);
    if (!(best.residual > 0) || !Double.isFinite(best.criterion)) {
      return Optional.empty();
    }
    double limit =
        best.criterion + ChiSquaredDistribution.of(1).inverseCumulativeProbability(confidence);
    double[] peak = Arrays.copyOf(start, start.length + 1);
    for (int k = 0; k < start.length; k++) {
      peak[k] = Math.abs(start[k]) * best.residual;
    }
    peak[start.length] = best.residual;
    List<Interval> intervals = new ArrayList<>();
    for (int k = 0; k < peak.length; k++) {
      Profile profile = new Profile(design, peak, k);
      double low =
          profile.at(0) <= limit
              ? 0
              : Bisection.solve(v -> -profile.at(v), -limit, 0, peak[k], 1e-6);
      double high = Math.max(peak[k], 0.1 * best.residual);
      while (profile.at(high) <= limit) {
        high *= 2;
      }
      intervals.add(new Interval(low, Bisection.solve(profile::at, limit, peak[k], high, 1e-6)));
    }
    return Optional.of(intervals);
  }

  /** The criterion at a value of one standard deviation, at its best over all the others. */
  private static final class Profile {
    private final Design design;
    private final double[] peak;
    private final int held;
    private double[] others;

    Profile(Design design, double[] peak, int held) {
      this.design = design;
      this.peak = peak;
      this.held = held;
      this.others = new double[peak.length - 1];
    }

    /** Searches the others as factors, in logarithms, from their last values. */
    double at(double value) {
      Simplex simplex = new Simplex(x -> criterion(value, x));
      double[] found = simplex.least(others, 0.1);
      others = simplex.least(found, 0.01);
      return criterion(value, others);
    }

    private double criterion(double value, double[] logs) {
      double[] deviations = new double[peak.length];
      for (int k = 0, o = 0; k < peak.length; k++) {
        double floor = Math.max(peak[k], 1e-3 * peak[peak.length - 1]);
        deviations[k] = k == held ? value : floor * Math.exp(logs[o++]);
      }
      return design.criterion(deviations);
    }
  }

  /**
   * The mean against zero, or against a margin, with levels drawn anew.
   *
   * @param margin margin of two one-sided tests, above 0, in the unit of the numbers
   * @return the tests, whose interval is that of the mean
   */
  public Equivalence ofMean(double margin) {
    return new Equivalence(mean, meanError, freedom, margin);
  }

  /**
   * Everything together: the spread of one number from a level of each factor drawn anew.
   *
   * @return standard deviation, in the unit of the numbers
   */
  public double total() {
    double sum = residual * residual;
    for (double d : deviations) {
      sum += d * d;
    }
    return Math.sqrt(sum);
  }

  /**
   * Intraclass correlation of a factor.
   *
   * @param factor its place
   * @return its share of the variance, 0 to 1
   */
  public double share(int factor) {
    double d = deviations.get(factor);
    return d * d / (total() * total());
  }

  private record Solution(double criterion, double residual, double mean, double meanError) {}

  /** Cross products of the design: all that a fit needs of the data. */
  @SuppressWarnings("ArrayRecordComponent") // Only used within.
  private record Design(
      int count,
      double shift,
      int[] factorOf,
      double[][] zz,
      double[][] zx,
      double[] zy,
      double[] xx,
      double[] xy,
      double yy) {

    static @org.jspecify.annotations.Nullable Design of(
        double[] numbers, List<int[]> factors, int[] cells) {
      int n = numbers.length;
      int[] cell = Levels.of(cells);
      int p = Levels.count(cell);
      List<int[]> level = factors.stream().map(Levels::of).toList();
      int q = level.stream().mapToInt(Levels::count).sum();
      boolean splittable =
          !factors.isEmpty()
              && n > p + factors.size()
              && q <= MOST_LEVELS
              && level.stream().allMatch(l -> Levels.count(l) > 1 && Levels.count(l) < n);
      double shift = Arrays.stream(numbers).average().orElse(0);
      if (!splittable || isConstantWithin(numbers, cell, p)) {
        return null;
      }
      int[] factorOf = new int[q];
      int[][] places = new int[n][factors.size()];
      int first = 0;
      for (int k = 0; k < level.size(); k++) {
        for (int i = 0; i < n; i++) {
          places[i][k] = first + level.get(k)[i];
          factorOf[places[i][k]] = k;
        }
        first += Levels.count(level.get(k));
      }
      double[][] zz = new double[q][q];
      double[][] zx = new double[q][p];
      double[] zy = new double[q];
      double[] xx = new double[p];
      double[] xy = new double[p];
      double yy = 0;
      for (int i = 0; i < n; i++) {
        double y = numbers[i] - shift;
        for (int a : places[i]) {
          for (int b : places[i]) {
            zz[a][b]++;
          }
          zx[a][cell[i]]++;
          zy[a] += y;
        }
        xx[cell[i]]++;
        xy[cell[i]] += y;
        yy += y * y;
      }
      return new Design(n, shift, factorOf, zz, zx, zy, xx, xy, yy);
    }

    private static boolean isConstantWithin(double[] numbers, int[] cell, int p) {
      double[] first = new double[p];
      Arrays.fill(first, Double.NaN);
      for (int i = 0; i < numbers.length; i++) {
        if (Double.isNaN(first[cell[i]])) {
          first[cell[i]] = numbers[i];
        } else if (numbers[i] != first[cell[i]]) {
          return false;
        }
      }
      return true;
    }

    /** The criterion at given standard deviations, the residual last. */
    double criterion(double[] deviations) {
      int factors = deviations.length - 1;
      // A residual of nothing has no likelihood; the least that is looked at stands for it.
      double residual = Math.max(deviations[factors], 1e-9);
      double[] theta = new double[factors];
      for (int k = 0; k < factors; k++) {
        theta[k] = deviations[k] / residual;
      }
      Solution free = at(theta);
      double ratio = free.residual * free.residual / (residual * residual);
      return free.criterion + (count - xx.length) * (ratio - 1 - Math.log(ratio));
    }

    /** The criterion and the estimates at given relative deviations. */
    Solution at(double[] theta) {
      int q = factorOf.length;
      int p = xx.length;
      double[][] l = new double[q][q];
      double[][] right = new double[q][p + 1];
      for (int a = 0; a < q; a++) {
        double scale = theta[factorOf[a]];
        for (int b = 0; b <= a; b++) {
          l[a][b] = scale * zz[a][b] * theta[factorOf[b]] + (a == b ? 1 : 0);
        }
        for (int c = 0; c < p; c++) {
          right[a][c] = scale * zx[a][c];
        }
        right[a][p] = scale * zy[a];
      }
      double logL = Cholesky.factor(l);
      Cholesky.solveLower(l, right);
      double[][] r = new double[p][p];
      double[][] rest = new double[p][2];
      double squares = yy;
      for (int a = 0; a < q; a++) {
        squares -= right[a][p] * right[a][p];
      }
      for (int c = 0; c < p; c++) {
        for (int d = 0; d <= c; d++) {
          double sum = c == d ? xx[c] : 0;
          for (int a = 0; a < q; a++) {
            sum -= right[a][c] * right[a][d];
          }
          r[c][d] = sum;
        }
        double sum = xy[c];
        for (int a = 0; a < q; a++) {
          sum -= right[a][c] * right[a][p];
        }
        rest[c][0] = sum;
        rest[c][1] = 1.0 / p;
      }
      double logR = Cholesky.factor(r);
      Cholesky.solveLower(r, rest);
      double mean = 0;
      double variance = 0;
      for (int c = 0; c < p; c++) {
        squares -= rest[c][0] * rest[c][0];
        mean += rest[c][0] * rest[c][1];
        variance += rest[c][1] * rest[c][1];
      }
      double freedom = count - p;
      double residual = Math.sqrt(Math.max(0, squares) / freedom);
      return new Solution(
          2 * logL + 2 * logR + freedom * (1 + Math.log(2 * Math.PI * residual * residual)),
          residual,
          mean,
          residual * Math.sqrt(variance));
    }
  }

  /** Whole numbers as places 0, 1, 2 … */
  private static final class Levels {
    static int[] of(int[] words) {
      int[] sorted = Arrays.stream(words).distinct().sorted().toArray();
      return Arrays.stream(words).map(w -> Arrays.binarySearch(sorted, w)).toArray();
    }

    static int count(int[] places) {
      return Arrays.stream(places).max().orElse(-1) + 1;
    }
  }
}
