package org.stopwell.harness.learn;

/** Principal axes by the rotations of Jacobi (J reine angew Math 1846;30:51, from memory). */
final class Jacobi {
  private static final int SWEEPS = 60;
  private static final double SMALL = 1e-22;

  private Jacobi() {}

  /**
   * Diagonalises a symmetric matrix in place.
   *
   * @param a the matrix; its diagonal then holds the variances
   * @return the axes, one per column
   */
  static double[][] diagonalise(double[][] a) {
    int n = a.length;
    double[][] v = new double[n][n];
    for (int i = 0; i < n; i++) {
      v[i][i] = 1;
    }
    for (int sweep = 0; sweep < SWEEPS; sweep++) {
      double off = 0;
      double all = 0;
      for (int i = 0; i < n; i++) {
        all += a[i][i] * a[i][i];
        for (int j = 0; j < i; j++) {
          off += a[i][j] * a[i][j];
        }
      }
      if (off <= SMALL * all) {
        break;
      }
      for (int p = 0; p < n; p++) {
        for (int q = p + 1; q < n; q++) {
          rotate(a, v, p, q);
        }
      }
    }
    return v;
  }

  private static void rotate(double[][] a, double[][] v, int p, int q) {
    if (a[p][q] == 0) {
      return;
    }
    double theta = (a[q][q] - a[p][p]) / (2 * a[p][q]);
    double t = 1 / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
    t = theta < 0 ? -t : t;
    double c = 1 / Math.sqrt(t * t + 1);
    double s = t * c;
    for (int k = 0; k < a.length; k++) {
      double kp = a[k][p];
      double kq = a[k][q];
      a[k][p] = c * kp - s * kq;
      a[k][q] = s * kp + c * kq;
    }
    for (int k = 0; k < a.length; k++) {
      double pk = a[p][k];
      double qk = a[q][k];
      a[p][k] = c * pk - s * qk;
      a[q][k] = s * pk + c * qk;
    }
    for (double[] row : v) {
      double rp = row[p];
      double rq = row[q];
      row[p] = c * rp - s * rq;
      row[q] = s * rp + c * rq;
    }
  }
}
