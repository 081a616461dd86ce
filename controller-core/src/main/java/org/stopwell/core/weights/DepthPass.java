package org.stopwell.core.weights;

import java.util.List;

/** The working memory of a network: inputs, outputs and all values between. */
public final class DepthPass {
  /** Outputs are held within this either way: 256 units. */
  private static final int MOST_OUTPUT = 256 << DepthNetwork.OUTPUT_BITS;

  /** A hidden value is held within this either way before it leaks. */
  private static final int MOST_HIDDEN = 1 << 24;

  /** Logarithms of standard errors are held within this either way: 3 units. */
  private static final int MOST_LOG = 3 << DepthNetwork.OUTPUT_BITS;

  private static final double UNIT = 1 << DepthNetwork.OUTPUT_BITS;
  private static final int LEAK_BITS = 15;

  private final DepthNetwork network;
  private final DepthLayer[] layers;
  private final double[] inputs;
  private final int[][] values;

  /**
   * Memory for a network.
   *
   * @param network the network
   */
  public DepthPass(DepthNetwork network) {
    this.network = network;
    List<DepthLayer> all = network.layers();
    layers = all.toArray(new DepthLayer[0]);
    inputs = new double[layers[0].inputs()];
    values = new int[layers.length + 1][];
    values[0] = new int[inputs.length];
    for (int l = 0; l < layers.length; l++) {
      values[l + 1] = new int[layers[l].outputs()];
    }
  }

  /**
   * Where the features go.
   *
   * @return the array itself
   */
  public double[] inputs() {
    return inputs;
  }

  /** Works out the outputs of {@link #inputs}. */
  public void run() {
    int[] from = values[0];
    for (int i = 0; i < from.length; i++) {
      from[i] = network.normalised(i, inputs[i]);
    }
    int last = layers.length - 1;
    for (int l = 0; l <= last; l++) {
      int[] to = values[l + 1];
      layers[l].run(from, to, l < last ? MOST_HIDDEN : MOST_OUTPUT);
      if (l < last) {
        leak(to);
      }
      from = to;
    }
    for (int j = from.length / 2; j < from.length; j++) {
      from[j] = Math.max(-MOST_LOG, Math.min(MOST_LOG, from[j]));
    }
  }

  private void leak(int[] hidden) {
    long slope = network.leak();
    int count = hidden.length;
    for (int j = 0; j < count; j++) {
      int value = hidden[j];
      if (value < 0) {
        value = (int) ((value * slope + (1 << (LEAK_BITS - 1))) >> LEAK_BITS);
      }
      hidden[j] = Math.max(-DepthLayer.MOST, Math.min(DepthLayer.MOST, value));
    }
  }

  /**
   * The inputs as the first layer took them.
   *
   * @return the array itself
   */
  public int[] normalised() {
    return values[0];
  }

  /**
   * An output. The first half are estimates, the second half the logarithms of their standard
   * errors.
   *
   * @param index which one
   * @return in its unit
   */
  public double output(int index) {
    return values[layers.length][index] / UNIT;
  }
}
