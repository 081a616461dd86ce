package org.stopwell.harness.stats;

/** The triangular factor of a positive definite matrix. */
public final class Cholesky {
  private Cholesky() {}

  /**
   * Replaces the lower half of a matrix by its factor.
   *
   * @param a a symmetric matrix; its lower half counts
   * @return the sum of the logarithms of its diagonal, NaN when the matrix is not positive definite
   */
  public static double factor(double[][] a) {
    double log = 0;
    for (int i = 0; i < a.length; i++) {
      for (int j = 0; j <= i; j++) {
        double sum = a[i][j];
        for (int k = 0; k < j; k++) {
          sum -= a[i][k] * a[j][k];
        }
        if (i == j) {
          a[i][i] = Math.sqrt(sum);
          log += Math.log(a[i][i]);
        } else {
          a[i][j] = sum / a[j][j];
        }
      }
    }
    return log;
  }

  /**
   * Replaces each column of the right side by the solution of L x = column.
   *
   * @param l a lower triangular matrix
   * @param right the columns
   */
  public static void solveLower(double[][] l, double[][] right) {
    for (int i = 0; i < l.length; i++) {
      for (int c = 0; c < right[i].length; c++) {
        double sum = right[i][c];
        for (int k = 0; k < i; k++) {
          sum -= l[i][k] * right[k][c];
        }
        right[i][c] = sum / l[i][i];
      }
    }
  }
}
