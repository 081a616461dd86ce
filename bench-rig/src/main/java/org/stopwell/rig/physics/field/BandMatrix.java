package org.stopwell.rig.physics.field;

import java.util.Arrays;

/**
 * A symmetric positive definite matrix whose entries lie close to its diagonal, factored in place:
 * {@code A = L D Lᵀ}. Columns lie one after the other, so that the inner loop runs over memory.
 */
final class BandMatrix {
  private final int stride;
  private final double[] pivot;
  private double[] entries = new double[0];
  private int size;

  /**
   * A matrix of size 0.
   *
   * @param halfWidth greatest distance of an entry from the diagonal
   */
  BandMatrix(int halfWidth) {
    stride = halfWidth + 1;
    pivot = new double[stride];
  }

  /** Makes it a zero matrix of a size. */
  void reset(int wanted) {
    size = wanted;
    // the elimination writes past the last column
    int needed = (wanted + stride) * stride;
    if (entries.length < needed) {
      entries = new double[needed];
    } else {
      Arrays.fill(entries, 0, needed, 0);
    }
  }

  void add(int row, int column, double value) {
    int low = Math.min(row, column);
    entries[low * stride + Math.abs(row - column)] += value;
  }

  /** Sets a row without entries to 1, so that its unknown is 0 and touches no other. */
  void closeEmptyRows() {
    for (int k = 0; k < size; k++) {
      if (entries[k * stride] == 0) {
        entries[k * stride] = 1;
      }
    }
  }

  /** Replaces the matrix by its factors. */
  void factor() {
    for (int k = 0; k < size; k++) {
      int at = k * stride;
      double inverse = 1 / entries[at];
      System.arraycopy(entries, at, pivot, 0, stride);
      for (int m = 1; m < stride; m++) {
        double share = pivot[m] * inverse;
        if (share != 0) {
          subtract(entries, at + m * stride - m, share, pivot, m);
        }
        entries[at + m] = share;
      }
    }
  }

  private static void subtract(double[] from, int offset, double share, double[] row, int start) {
    for (int n = start; n < row.length; n++) {
      from[offset + n] -= share * row[n];
    }
  }

  /**
   * Solves for one right-hand side, in place.
   *
   * @param x right-hand side, 0 before the first row; then the solution from the first row on
   * @param first first row that counts
   */
  void solve(double[] x, int first) {
    for (int k = first; k < size; k++) {
      double value = x[k];
      if (value != 0) {
        int last = Math.min(stride, size - k);
        int at = k * stride;
        for (int m = 1; m < last; m++) {
          x[k + m] -= value * entries[at + m];
        }
      }
    }
    for (int k = size - 1; k >= first; k--) {
      int last = Math.min(stride, size - k);
      int at = k * stride;
      double sum = x[k] / entries[at];
      for (int m = 1; m < last; m++) {
        sum -= entries[at + m] * x[k + m];
      }
      x[k] = sum;
    }
  }
}
