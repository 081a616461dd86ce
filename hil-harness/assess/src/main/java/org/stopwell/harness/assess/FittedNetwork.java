package org.stopwell.harness.assess;

import org.stopwell.core.weights.DepthNetwork;

/**
 * A network as a fit leaves it, in rows of single precision that run fast. {@link Quantiser} makes
 * the whole numbers of it that a controller runs.
 */
final class FittedNetwork {
  /** Inputs are held within this many standard deviations of their mean. */
  static final float REACH = 5;

  /** Slope of a hidden unit below zero. */
  static final float SLOPE = 0.05f;

  /** Bounds of the logarithm of a standard error. */
  static final float LEAST_LOG = -3;

  static final float MOST_LOG = 3;

  /** Examples that show the range of hidden values. */
  private static final int RANGE_EXAMPLES = 20_000;

  private final int[] sizes;
  private final int corrected;
  private final float[] mean;
  private final float[] scale;
  private final float[][][] layers;

  /**
   * A network.
   *
   * @param sizes width of every layer, inputs first; the last is twice the number of targets:
   *     estimates, then the logarithms of their standard errors
   * @param corrected which input the first estimate is a correction of, -1 for none
   * @param mean mean of every input
   * @param scale one over the standard deviation of every input
   * @param layers per layer a row for every input and a row of offsets
   */
  FittedNetwork(int[] sizes, int corrected, float[] mean, float[] scale, float[][][] layers) {
    this.sizes = sizes;
    this.corrected = corrected;
    this.mean = mean;
    this.scale = scale;
    this.layers = layers;
  }

  /** How many inputs it takes. */
  int inputs() {
    return sizes[0];
  }

  /** An input as the first layer takes it. */
  float normalised(float[] inputs, int at, int i) {
    return held((inputs[at + i] - mean[i]) * scale[i]);
  }

  /** Room for the values of every layer. */
  float[][] room() {
    float[][] values = new float[sizes.length][];
    for (int l = 0; l < sizes.length; l++) {
      values[l] = new float[sizes[l]];
    }
    return values;
  }

  /**
   * Runs it.
   *
   * @param inputs holds the inputs
   * @param at where they begin
   * @param values what {@link #room} gave
   * @return the outputs: the last array of the room
   */
  float[] run(float[] inputs, int at, float[][] values) {
    float[] from = values[0];
    for (int i = 0; i < from.length; i++) {
      from[i] = normalised(inputs, at, i);
    }
    for (int l = 0; l < layers.length; l++) {
      float[] to = values[l + 1];
      System.arraycopy(layers[l][from.length], 0, to, 0, to.length);
      Fit.addRows(to, layers[l], from);
      if (l < layers.length - 1) {
        for (int j = 0; j < to.length; j++) {
          to[j] = Math.max(to[j], SLOPE * to[j]);
        }
      }
      from = to;
    }
    from[0] += corrected < 0 ? 0 : inputs[at + corrected];
    for (int j = from.length / 2; j < from.length; j++) {
      from[j] = Math.max(LEAST_LOG, Math.min(MOST_LOG, from[j]));
    }
    return from;
  }

  static float held(float value) {
    return Math.max(-REACH, Math.min(REACH, value));
  }

  /** The weights in the order of {@link FloatNetwork}. */
  double[] weights() {
    double[] all = new double[FloatNetwork.weightCount(sizes)];
    int n = 0;
    for (int i = 0; i < sizes[0]; i++) {
      all[n++] = mean[i];
      all[n++] = scale[i];
    }
    for (float[][] layer : layers) {
      for (float[] row : layer) {
        for (float w : row) {
          all[n++] = w;
        }
      }
    }
    return all;
  }

  /** The network in whole numbers. */
  DepthNetwork whole(Examples examples) {
    int rows = Math.min(examples.count(), RANGE_EXAMPLES);
    float[] some = new float[rows * sizes[0]];
    for (int k = 0; k < rows; k++) {
      // spread over all families
      int from = (int) ((long) k * examples.count() / rows);
      System.arraycopy(examples.inputs(), from * sizes[0], some, k * sizes[0], sizes[0]);
    }
    return Quantiser.quantise(sizes, weights(), some);
  }
}
