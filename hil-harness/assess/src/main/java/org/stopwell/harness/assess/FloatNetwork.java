package org.stopwell.harness.assess;

import org.stopwell.core.weights.DepthNetwork;

/**
 * A network with fractions, as a fit leaves it. {@link Quantiser} makes the whole numbers of it
 * that a controller runs.
 */
final class FloatNetwork {
  /** Inputs are held within this many standard deviations of their mean. */
  static final float REACH = 5;

  /** Slope of a hidden unit below zero. */
  static final float SLOPE = 0.05f;

  /** No input that the first estimate corrects. */
  static final int NOTHING = -1;

  /** Examples that show the range of hidden values. */
  private static final int RANGE_EXAMPLES = 20_000;

  private final int[] sizes;
  private final int corrected;
  private final float[] mean;
  private final float[] scale;
  private final FloatLayers layers;

  /**
   * A network.
   *
   * @param sizes width of every layer, inputs first; the last is twice the number of targets:
   *     estimates, then the logarithms of their standard errors
   * @param corrected which input the first estimate is a correction of, {@link #NOTHING} for none
   * @param mean mean of every input
   * @param scale one over the standard deviation of every input
   * @param rows per layer a row for every input and a row of offsets
   */
  FloatNetwork(int[] sizes, int corrected, float[] mean, float[] scale, float[][][] rows) {
    this.sizes = sizes;
    this.corrected = corrected;
    this.mean = mean;
    this.scale = scale;
    layers = new FloatLayers(rows, SLOPE);
  }

  /** How many inputs it takes. */
  int inputs() {
    return sizes[0];
  }

  /** An input as the first layer takes it. */
  float normalised(float[] inputs, int at, int i) {
    return held((inputs[at + i] - mean[i]) * scale[i]);
  }

  /**
   * A network of packed weights.
   *
   * @param sizes width of every layer, inputs first
   * @param corrected as in the constructor
   * @param packed as {@link #weights} gives them
   * @return the network
   */
  static FloatNetwork of(int[] sizes, int corrected, double[] packed) {
    float[] mean = new float[sizes[0]];
    float[] scale = new float[sizes[0]];
    int n = 0;
    for (int i = 0; i < sizes[0]; i++) {
      mean[i] = (float) packed[n++];
      scale[i] = (float) packed[n++];
    }
    float[][][] rows = new float[sizes.length - 1][][];
    for (int l = 0; l < rows.length; l++) {
      rows[l] = new float[sizes[l] + 1][sizes[l + 1]];
      for (float[] row : rows[l]) {
        for (int j = 0; j < row.length; j++) {
          row[j] = (float) packed[n++];
        }
      }
    }
    return new FloatNetwork(sizes.clone(), corrected, mean, scale, rows);
  }

  /** Room for the values of every layer. */
  float[][] room() {
    return layers.values();
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
    for (int i = 0; i < sizes[0]; i++) {
      values[0][i] = normalised(inputs, at, i);
    }
    float[] out = layers.run(values);
    out[0] += corrected < 0 ? 0 : inputs[at + corrected];
    for (int j = out.length / 2; j < out.length; j++) {
      out[j] = heldLog(out[j]);
    }
    return out;
  }

  /** The logarithm of a standard error within its bounds. */
  static float heldLog(float log) {
    return Math.max(-FloatLayers.MOST_LOG, Math.min(FloatLayers.MOST_LOG, log));
  }

  static float held(float value) {
    return Math.max(-REACH, Math.min(REACH, value));
  }

  /**
   * The weights, packed: mean and reciprocal deviation per input, then per layer the weights from
   * every input of it and the offsets.
   */
  double[] weights() {
    double[] all = new double[Quantiser.weightCount(sizes)];
    int n = 0;
    for (int i = 0; i < sizes[0]; i++) {
      all[n++] = mean[i];
      all[n++] = scale[i];
    }
    for (float[][] layer : layers.rows()) {
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
