package org.stopwell.harness.learn;

import org.stopwell.core.weights.DepthNetwork;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.harness.assess.FloatLayers;
import org.stopwell.harness.assess.Quantiser;

/** The weights that a fit starts from, with fractions, and the way back to whole numbers. */
final class StartWeights {
  private final DepthWeights shipped;
  private final double[] all;
  private final int[] sizes;
  private final boolean anyFile;

  /**
   * Weights to start from.
   *
   * @param shipped the weights
   * @param anyFile whether size and taper of the file are not known: they are no input then
   */
  StartWeights(DepthWeights shipped, boolean anyFile) {
    this.shipped = shipped;
    this.anyFile = anyFile;
    all = Quantiser.weights(shipped.alone());
    sizes = shipped.alone().sizes();
    for (int i = sizes[0] - 2; anyFile && i < sizes[0]; i++) {
      all[2 * i + 1] = 0;
    }
  }

  DepthWeights shipped() {
    return shipped;
  }

  boolean anyFile() {
    return anyFile;
  }

  /** What normalises an input. */
  float scale(int input) {
    return (float) all[2 * input + 1];
  }

  /** Normalises features as the core does. */
  void normalise(double[] features, float[] to, int at) {
    for (int i = 0; i < sizes[0]; i++) {
      double z = (features[i] - all[2 * i]) * all[2 * i + 1];
      to[at + i] = (float) Math.max(-DepthNetwork.REACH, Math.min(DepthNetwork.REACH, z));
    }
  }

  /** The features of normalised inputs, for {@link org.stopwell.core.weights.DepthPass}. */
  void features(float[] normalised, int at, double[] to) {
    for (int i = 0; i < sizes[0]; i++) {
      double scale = all[2 * i + 1];
      to[i] = all[2 * i] + (scale == 0 ? 0 : normalised[at + i] / scale);
    }
  }

  FloatLayers layers() {
    float[][][] rows = new float[sizes.length - 1][][];
    int n = 2 * sizes[0];
    for (int l = 0; l < rows.length; l++) {
      rows[l] = new float[sizes[l] + 1][sizes[l + 1]];
      for (float[] row : rows[l]) {
        for (int j = 0; j < row.length; j++) {
          row[j] = (float) all[n++];
        }
      }
    }
    return new FloatLayers(rows, shipped.alone().leak() / (float) DepthNetwork.LEAK_ONE);
  }

  /** The network that a controller runs. */
  DepthNetwork whole(FloatLayers layers, float[] examples) {
    double[] weights = all.clone();
    int n = 2 * sizes[0];
    for (float[][] table : layers.rows()) {
      for (float[] row : table) {
        for (float w : row) {
          weights[n++] = w;
        }
      }
    }
    return Quantiser.quantise(sizes, weights, examples);
  }
}
