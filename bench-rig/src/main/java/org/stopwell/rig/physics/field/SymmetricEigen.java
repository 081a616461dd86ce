package org.stopwell.rig.physics.field;

/** Eigenvalues and eigenvectors of a small symmetric matrix by Jacobi's rotations. */
final class SymmetricEigen {
  private static final int MOST_SWEEPS = 30;

  /** Squares off the diagonal below this share of those on it are none. */
  private static final double NONE = 1e-26;

  private SymmetricEigen() {}

  /**
   * Solves.
   *
   * @param a the matrix, which is used up
   * @param vectors its eigenvectors, a column each
   * @param values its eigenvalues
   * @param size rows and columns that count
   */
  static void solve(double[][] a, double[][] vectors, double[] values, int size) {
    for (int i = 0; i < size; i++) {
      for (int k = 0; k < size; k++) {
        vectors[i][k] = i == k ? 1 : 0;
      }
    }
    for (int sweep = 0; sweep < MOST_SWEEPS && !diagonal(a, size); sweep++) {
      for (int p = 0; p < size; p++) {
        for (int q = p + 1; q < size; q++) {
          if (a[p][q] != 0) {
            rotate(a, vectors, p, q, size);
          }
        }
      }
    }
    for (int i = 0; i < size; i++) {
      values[i] = a[i][i];
    }
  }

  private static boolean diagonal(double[][] a, int size) {
    double off = 0;
    double on = 0;
    for (int p = 0; p < size; p++) {
      on += a[p][p] * a[p][p];
      for (int q = p + 1; q < size; q++) {
        off += a[p][q] * a[p][q];
      }
    }
    return off <= NONE * on;
  }

  private static void rotate(double[][] a, double[][] vectors, int p, int q, int size) {
    double theta = (a[q][q] - a[p][p]) / (2 * a[p][q]);
    double t = Math.copySign(1, theta) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
    double c = 1 / Math.sqrt(t * t + 1);
    double s = t * c;
    for (int k = 0; k < size; k++) {
      double x = a[k][p];
      double y = a[k][q];
      a[k][p] = c * x - s * y;
      a[k][q] = s * x + c * y;
    }
    for (int k = 0; k < size; k++) {
      double x = a[p][k];
      double y = a[q][k];
      a[p][k] = c * x - s * y;
      a[q][k] = s * x + c * y;
    }
    for (int k = 0; k < size; k++) {
      double x = vectors[k][p];
      double y = vectors[k][q];
      vectors[k][p] = c * x - s * y;
      vectors[k][q] = s * x + c * y;
    }
  }
}
