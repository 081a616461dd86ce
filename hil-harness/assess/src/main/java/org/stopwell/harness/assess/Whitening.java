package org.stopwell.harness.assess;

/**
 * How unlike the training a reading is: the mean square of its inputs after they were made
 * uncorrelated and of equal spread (Mahalanobis distance over the number of inputs; any textbook of
 * multivariate statistics). 1 is the mean of the training.
 */
final class Whitening {
  /** Added to every variance, so that an input without spread does not decide; assumed. */
  private static final double FLOOR = 1e-2;

  private final FittedNetwork network;

  /** Row by row. */
  private final float[][] matrix;

  private Whitening(FittedNetwork network, float[][] matrix) {
    this.network = network;
    this.matrix = matrix;
  }

  /**
   * That of a training: novelty is the mean square of P·z, z the normalised inputs, P the inverse
   * of the triangular factor of their covariance.
   *
   * @param network gives the normalisation
   * @param examples the training
   * @param rows which of them
   * @return P with its normalisation
   */
  static Whitening of(FittedNetwork network, Examples examples, int[] rows) {
    int n = network.inputs();
    double[][] covariance = new double[n][n];
    int every = Math.max(1, rows.length / 200_000);
    int count = 0;
    double[] z = new double[n];
    for (int k = 0; k < rows.length; k += every) {
      normalise(network, examples.inputs(), rows[k] * n, z);
      for (int i = 0; i < n; i++) {
        for (int j = 0; j <= i; j++) {
          covariance[i][j] += z[i] * z[j];
        }
      }
      count++;
    }
    for (int i = 0; i < n; i++) {
      for (int j = 0; j <= i; j++) {
        covariance[i][j] /= count;
      }
      covariance[i][i] += FLOOR;
    }
    return new Whitening(network, inverse(factor(covariance)));
  }

  private static void normalise(FittedNetwork network, float[] inputs, int at, double[] z) {
    for (int i = 0; i < z.length; i++) {
      z[i] = network.normalised(inputs, at, i);
    }
  }

  private static double[][] factor(double[][] a) {
    for (int i = 0; i < a.length; i++) {
      for (int j = 0; j <= i; j++) {
        double sum = a[i][j];
        for (int k = 0; k < j; k++) {
          sum -= a[i][k] * a[j][k];
        }
        a[i][j] = i == j ? StrictMath.sqrt(sum) : sum / a[j][j];
      }
    }
    return a;
  }

  private static float[][] inverse(double[][] l) {
    int n = l.length;
    double[][] inverse = new double[n][n];
    for (int c = 0; c < n; c++) {
      for (int i = c; i < n; i++) {
        double sum = i == c ? 1 : 0;
        for (int k = c; k < i; k++) {
          sum -= l[i][k] * inverse[k][c];
        }
        inverse[i][c] = sum / l[i][i];
      }
    }
    float[][] rows = new float[n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        rows[i][j] = (float) inverse[i][j];
      }
    }
    return rows;
  }

  /** The novelty of one row of inputs. */
  double novelty(float[] inputs, int at) {
    double[] z = new double[network.inputs()];
    normalise(network, inputs, at, z);
    double sum = 0;
    for (float[] row : matrix) {
      double v = 0;
      for (int i = 0; i < z.length; i++) {
        v += row[i] * z[i];
      }
      sum += v * v;
    }
    return sum / matrix.length;
  }

  /** P as a layer takes it: a row per input, and a last row of offsets. */
  double[][] rows() {
    double[][] rows = new double[network.inputs() + 1][matrix.length];
    for (int o = 0; o < matrix.length; o++) {
      for (int i = 0; i < network.inputs(); i++) {
        rows[i][o] = matrix[o][i];
      }
    }
    return rows;
  }
}
