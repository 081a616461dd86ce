package org.stopwell.harness.explore;

import java.util.ArrayList;
import java.util.List;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.apache.commons.math3.linear.SingularValueDecomposition;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.plan.Factor;

/**
 * A surface fitted to one outcome by least squares: a polynomial of second degree in the places of
 * the factors between their least value, −1, and their greatest, 1; a plane where there are too few
 * trials or too many factors. Its error is found on trials that it was not fitted to
 * (cross-validation in {@link #FOLDS} parts).
 *
 * @param terms the terms, the constant first
 * @param error root mean square error on trials left out, in the unit of the outcome
 * @param explained share of the variance that it explains on trials left out; below 0 where the
 *     mean is the better guess
 * @param trials trials that it was fitted to
 */
public record Surface(List<Term> terms, double error, double explained, long trials) {
  /** Parts of the cross-validation. */
  static final int FOLDS = 5;

  /** With more factors the surface is a plane: the sums of all products would be too many. */
  static final int MOST_QUADRATIC = 15;

  /** Fewest trials for each term. */
  private static final int FEWEST_PER_TERM = 2;

  private static final int SHIFT = 20;
  private static final double SCALE = 1.0 / Factor.ONE;

  /**
   * A term of the polynomial.
   *
   * @param one place of a factor; −1 in the constant
   * @param other place of the second factor of a product, or the same for a square; −1 where there
   *     is none
   * @param coefficient in the unit of the outcome
   */
  public record Term(int one, int other, double coefficient) {}

  /**
   * Whether the surface has no squares and products.
   *
   * @return true for a plane
   */
  public boolean isPlane() {
    return terms.stream().allMatch(term -> term.other < 0);
  }

  /** Takes a copy. */
  public Surface {
    terms = List.copyOf(terms);
  }

  /**
   * The surface at a point.
   *
   * @param places each factor between −1 and 1
   * @return the outcome that it predicts
   */
  public double at(double[] places) {
    double sum = 0;
    for (Term term : terms) {
      sum +=
          term.coefficient
              * (term.one < 0 ? 1 : places[term.one])
              * (term.other < 0 ? 1 : places[term.other]);
    }
    return sum;
  }

  private static int terms(int factors) {
    return factors <= MOST_QUADRATIC ? (factors + 1) * (factors + 2) / 2 : factors + 1;
  }

  private static int block(int factors) {
    int p = terms(factors);
    return 2 + p + p * (p + 1) / 2;
  }

  /** How many sums are kept for some factors. */
  static int sums(int factors) {
    return FOLDS * block(factors);
  }

  /** Adds a trial. */
  static void add(WideSums sums, int factors, int fold, int[] places, long outcome) {
    int p = terms(factors);
    int at = fold * block(factors);
    long[] features = features(factors, places);
    sums.add(at, 1);
    sums.add(at + 1, outcome * outcome);
    int next = at + 2 + p;
    for (int i = 0; i < p; i++) {
      sums.add(at + 2 + i, features[i] * outcome);
      for (int j = 0; j <= i; j++) {
        sums.add(next++, features[i] * features[j]);
      }
    }
  }

  /** The terms of a point with 20 binary places. */
  private static long[] features(int factors, int[] places) {
    long[] features = new long[terms(factors)];
    features[0] = Factor.ONE;
    for (int i = 0; i < factors; i++) {
      features[1 + i] = places[i];
    }
    int next = factors + 1;
    for (int i = 0; i < factors && next < features.length; i++) {
      for (int j = 0; j <= i; j++) {
        features[next++] = ((long) places[i] * places[j]) >> SHIFT;
      }
    }
    return features;
  }

  /** The surface, or null where there are too few trials or nothing to explain. */
  static @Nullable Surface of(WideSums sums, int factors) {
    Surface quadratic = of(sums, factors, terms(factors));
    return quadratic == null ? of(sums, factors, factors + 1) : quadratic;
  }

  /** A surface of the first terms. */
  private static @Nullable Surface of(WideSums sums, int factors, int p) {
    Part all = new Part(sums, factors, p, -1);
    if (all.trials < (long) FEWEST_PER_TERM * p * FOLDS / (FOLDS - 1)) {
      return null;
    }
    double mean = all.product.getEntry(0) / all.trials;
    double variance = all.squares / all.trials - mean * mean;
    if (!(variance > 0)) {
      return null;
    }
    double missed = 0;
    for (int fold = 0; fold < FOLDS; fold++) {
      Part left = new Part(sums, factors, p, fold);
      Part fitted = all.minus(left);
      if (fitted.trials < p) {
        return null;
      }
      RealVector b = fitted.solve();
      missed +=
          left.squares - 2 * b.dotProduct(left.product) + b.dotProduct(left.matrix.operate(b));
    }
    RealVector b = all.solve();
    List<Term> terms = new ArrayList<>();
    terms.add(new Term(-1, -1, b.getEntry(0)));
    for (int i = 0; i < factors; i++) {
      terms.add(new Term(i, -1, b.getEntry(1 + i)));
    }
    int next = factors + 1;
    for (int i = 0; i < factors && next < p; i++) {
      for (int j = 0; j <= i; j++) {
        terms.add(new Term(i, j, b.getEntry(next++)));
      }
    }
    double error = Math.max(0, missed) / all.trials;
    return new Surface(terms, Math.sqrt(error), 1 - error / variance, all.trials);
  }

  /** The sums of one part of the trials, or of all, in plain units. */
  private static final class Part {
    final long trials;
    final double squares;
    final RealVector product;
    final RealMatrix matrix;

    Part(long trials, double squares, RealVector product, RealMatrix matrix) {
      this.trials = trials;
      this.squares = squares;
      this.product = product;
      this.matrix = matrix;
    }

    Part(WideSums sums, int factors, int p, int fold) {
      int all = terms(factors);
      long n = 0;
      double y = 0;
      double[] xy = new double[p];
      double[][] xx = new double[p][p];
      for (int f = 0; f < FOLDS; f++) {
        if (fold >= 0 && f != fold) {
          continue;
        }
        int at = f * block(factors);
        n += sums.exact(at).longValueExact();
        y += sums.get(at + 1);
        int next = at + 2 + all;
        for (int i = 0; i < p; i++) {
          xy[i] += sums.get(at + 2 + i) * SCALE;
          for (int j = 0; j <= i; j++) {
            xx[i][j] += sums.get(next++) * SCALE * SCALE;
            xx[j][i] = xx[i][j];
          }
        }
      }
      this.trials = n;
      this.squares = y;
      this.product = new ArrayRealVector(xy);
      this.matrix = new Array2DRowRealMatrix(xx);
    }

    Part minus(Part other) {
      return new Part(
          trials - other.trials,
          squares - other.squares,
          product.subtract(other.product),
          matrix.subtract(other.matrix));
    }

    /** By singular values: a choice of two values has no square of its own. */
    RealVector solve() {
      RealMatrix scaled = matrix.scalarMultiply(1.0 / trials);
      return new SingularValueDecomposition(scaled)
          .getSolver()
          .solve(product.mapMultiply(1.0 / trials));
    }
  }
}
