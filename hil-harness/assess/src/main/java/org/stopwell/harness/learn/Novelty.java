package org.stopwell.harness.learn;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.stopwell.core.weights.DepthWeights;

/**
 * How unlike the taught readings a reading is. Of the principal components of the taught inputs,
 * the ones in which they vary least are each scaled to variance 1: the relations between the inputs
 * that every taught tooth keeps. Novelty is the mean square of them, about 1 for taught readings.
 */
final class Novelty {
  private static final int MOST_COMPONENTS = 24;

  /** Components that vary less are noise of the rounding of inputs; assumed. */
  private static final double LEAST_VARIANCE = 1e-3;

  /** Readings further away say little of the tooth, mm. */
  private static final double NEAR_MM = 2.5;

  /** Novelty counts where a stop is decided, mm. */
  private static final double DECIDES_MM = 1.5;

  private final double[][] rows;

  private Novelty(double[][] rows) {
    this.rows = rows;
  }

  /** Weight of every input in every component, and a last row of offsets. */
  double[][] rows() {
    return rows;
  }

  /** Fits the components. */
  static Novelty of(List<List<TaughtApproach>> teeth) {
    int n = DepthWeights.INPUTS;
    double[] mean = new double[n];
    double[][] squares = new double[n][n];
    double weight = 0;
    float[] in = new float[n];
    for (List<TaughtApproach> tooth : teeth) {
      for (TaughtApproach approach : tooth) {
        int near = 0;
        for (int k = 0; k < approach.readings(); k++) {
          near += approach.truth(k) < NEAR_MM ? 1 : 0;
        }
        // every tooth counts the same
        double each = 1.0 / tooth.size() / Math.max(1, near);
        for (int k = 0; k < approach.readings(); k++) {
          if (approach.truth(k) < NEAR_MM) {
            approach.inputs(k, in);
            weight += each;
            for (int i = 0; i < n; i++) {
              mean[i] += each * in[i];
              for (int j = 0; j <= i; j++) {
                squares[i][j] += each * in[i] * in[j];
              }
            }
          }
        }
      }
    }
    for (int i = 0; i < n; i++) {
      mean[i] /= weight;
    }
    for (int i = 0; i < n; i++) {
      for (int j = 0; j <= i; j++) {
        squares[i][j] = squares[i][j] / weight - mean[i] * mean[j];
        squares[j][i] = squares[i][j];
      }
    }
    double[][] vectors = Jacobi.diagonalise(squares);
    List<Integer> chosen = new ArrayList<>();
    for (int c = 0; c < n; c++) {
      if (squares[c][c] >= LEAST_VARIANCE) {
        chosen.add(c);
      }
    }
    chosen.sort(Comparator.comparingDouble(c -> squares[c][c]));
    int count = Math.min(MOST_COMPONENTS, chosen.size());
    double[][] rows = new double[n + 1][count];
    for (int c = 0; c < count; c++) {
      int from = chosen.get(c);
      double scale = 1 / Math.sqrt(squares[from][from]);
      for (int i = 0; i < n; i++) {
        rows[i][c] = scale * vectors[i][from];
        rows[n][c] -= rows[i][c] * mean[i];
      }
    }
    return new Novelty(rows);
  }

  /** The novelty of normalised inputs. */
  double of(float[] inputs) {
    double squares = 0;
    int count = rows[0].length;
    for (int c = 0; c < count; c++) {
      double sum = rows[inputs.length][c];
      for (int i = 0; i < inputs.length; i++) {
        sum += rows[i][c] * inputs[i];
      }
      squares += sum * sum;
    }
    return count == 0 ? 0 : squares / count;
  }

  /** The greatest novelty of the readings of some teeth where a stop is decided. */
  double greatest(List<List<TaughtApproach>> teeth) {
    double most = 0;
    float[] in = new float[DepthWeights.INPUTS];
    for (List<TaughtApproach> tooth : teeth) {
      for (TaughtApproach approach : tooth) {
        for (int k = 0; k < approach.readings(); k++) {
          if (approach.truth(k) < DECIDES_MM) {
            approach.inputs(k, in);
            most = Math.max(most, of(in));
          }
        }
      }
    }
    return most;
  }
}
