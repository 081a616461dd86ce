package org.stopwell.harness.explore;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.List;
import org.apache.commons.statistics.distribution.TDistribution;
import org.stopwell.harness.stats.Interval;

/**
 * Sensitivity indices of one outcome: which share of its variance each factor explains. First order
 * by Saltelli et al. (Comput Phys Commun 2010;181:259, table 2 b) with the mean removed, total by
 * Jansen (Comput Phys Commun 1999;117:35). Both from whole sums. The intervals come from
 * independent replicates, each left out in turn (jackknife), with Student's t.
 */
public final class SobolIndices {
  /** Confidence of the intervals. */
  public static final double CONFIDENCE = 0.95;

  private static final int REPLICATES = SobolDesign.REPLICATES;
  private static final int OF_ALL = 3;
  private static final int OF_FACTOR = 3;

  /**
   * The indices of one factor. An estimate can lie a little below 0 or above 1.
   *
   * @param first share of the variance that the factor explains alone
   * @param firstInterval its 95 % interval
   * @param total share that goes with the factor, alone and together with others
   * @param totalInterval its 95 % interval
   */
  public record Index(double first, Interval firstInterval, double total, Interval totalInterval) {}

  private SobolIndices() {}

  /** How many sums are kept for some factors, the rest included. */
  static int sums(int factors) {
    return REPLICATES * block(factors);
  }

  private static int block(int factors) {
    return OF_ALL + OF_FACTOR * factors;
  }

  /** Adds a row: A, B, and A with B in each factor. */
  static void add(WideSums sums, long unit, long[] row) {
    int factors = row.length - 2;
    int at = SobolDesign.replicate(unit) * block(factors);
    long a = row[0];
    long b = row[1];
    sums.add(at, 1);
    sums.add(at + 1, a + b);
    sums.add(at + 2, a * a + b * b);
    for (int i = 0; i < factors; i++) {
      long moved = row[2 + i] - a;
      int own = at + OF_ALL + OF_FACTOR * i;
      sums.add(own, moved * moved);
      sums.add(own + 1, b * moved);
      sums.add(own + 2, moved);
    }
  }

  /** The indices of all factors; none where the outcome has no variance. */
  static List<Index> of(WideSums sums, int factors) {
    BigInteger[] all = total(sums, factors, -1);
    List<Index> indices = new ArrayList<>();
    if (!(variance(all) > 0)) {
      return indices;
    }
    List<BigInteger[]> without = new ArrayList<>();
    for (int r = 0; r < REPLICATES; r++) {
      BigInteger[] rest = total(sums, factors, r);
      if (sums.exact(r * block(factors)).signum() > 0 && variance(rest) > 0) {
        without.add(rest);
      }
    }
    for (int i = 0; i < factors; i++) {
      int factor = i;
      double first = first(all, factor);
      double total = totalIndex(all, factor);
      indices.add(
          new Index(
              first,
              around(first, without.stream().mapToDouble(s -> first(s, factor)).toArray()),
              total,
              around(total, without.stream().mapToDouble(s -> totalIndex(s, factor)).toArray())));
    }
    return indices;
  }

  /** How many rows are complete. */
  static long rows(WideSums sums, int factors) {
    return total(sums, factors, -1)[0].longValueExact();
  }

  private static BigInteger[] total(WideSums sums, int factors, int without) {
    BigInteger[] total = new BigInteger[block(factors)];
    java.util.Arrays.fill(total, BigInteger.ZERO);
    for (int r = 0; r < REPLICATES; r++) {
      for (int i = 0; i < total.length && r != without; i++) {
        total[i] = total[i].add(sums.exact(r * total.length + i));
      }
    }
    return total;
  }

  /** Variance over the points A and B. */
  private static double variance(BigInteger[] s) {
    BigInteger n = s[0].shiftLeft(1);
    if (n.compareTo(BigInteger.TWO) < 0) {
      return 0;
    }
    return divide(n.multiply(s[2]).subtract(s[1].multiply(s[1])), n.multiply(n));
  }

  private static double first(BigInteger[] s, int factor) {
    int own = OF_ALL + OF_FACTOR * factor;
    // Σ (B − mean) (AB − A) / n, with the mean over 2 n points.
    BigInteger n = s[0].shiftLeft(1);
    BigInteger numerator = n.multiply(s[own + 1]).subtract(s[1].multiply(s[own + 2]));
    return divide(numerator, n.multiply(s[0])) / variance(s);
  }

  private static double totalIndex(BigInteger[] s, int factor) {
    return divide(s[OF_ALL + OF_FACTOR * factor], s[0].shiftLeft(1)) / variance(s);
  }

  private static double divide(BigInteger a, BigInteger b) {
    return new BigDecimal(a).divide(new BigDecimal(b), MathContext.DECIMAL128).doubleValue();
  }

  private static Interval around(double estimate, double[] without) {
    int n = without.length;
    if (n < 2) {
      return new Interval(Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY);
    }
    double mean = java.util.Arrays.stream(without).average().orElseThrow();
    double squares = java.util.Arrays.stream(without).map(x -> (x - mean) * (x - mean)).sum();
    double half =
        TDistribution.of(n - 1.0).inverseSurvivalProbability((1 - CONFIDENCE) / 2)
            * Math.sqrt((n - 1.0) / n * squares);
    return new Interval(estimate - half, estimate + half);
  }
}
