package org.stopwell.harness.assess;

import org.stopwell.harness.stats.Cholesky;

/**
 * How unlike the training a reading is: the mean square of its inputs after they were made
 * uncorrelated and of equal spread (Mahalanobis distance over the number of inputs; any textbook of
 * multivariate statistics). 1 is the mean of the training.
 */
final class Whitening {
  /** Added to every variance, so that an input without spread does not decide; assumed. */
  private static final double FLOOR = 1e-2;

  private final FloatNetwork network;

  /** Row by row. */
  private final float[][] matrix;

  private Whitening(FloatNetwork network, float[][] matrix) {
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
  static Whitening of(FloatNetwork network, Examples examples, int[] rows) {
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
    Cholesky.factor(covariance);
    return new Whitening(network, inverse(covariance));
  }

  private static void normalise(FloatNetwork network, float[] inputs, int at, double[] z) {
    for (int i = 0; i < z.length; i++) {
      z[i] = network.normalised(inputs, at, i);
    }
  }

  private static float[][] inverse(double[][] l) {
    double[][] inverse = new double[l.length][l.length];
    for (int i = 0; i < l.length; i++) {
      inverse[i][i] = 1;
    }
    Cholesky.solveLower(l, inverse);
    float[][] rows = new float[l.length][l.length];
    for (int i = 0; i < l.length; i++) {
      for (int j = 0; j < l.length; j++) {
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
