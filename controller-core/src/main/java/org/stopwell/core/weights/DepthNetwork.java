package org.stopwell.core.weights;

import java.util.List;

/**
 * A small feed-forward network in whole numbers: features in, estimates with the logarithms of
 * their standard errors out. Immutable; {@link DepthPass} runs it.
 *
 * <p>An input is normalised, held within {@link #REACH} deviations and rounded to {@link
 * #INPUT_BITS} bits behind the point. The value of a hidden unit has 16 bits, of which a number
 * that each layer states lie behind the point; below zero it is multiplied by the leak. An output
 * has {@link #OUTPUT_BITS} bits behind the point.
 */
public final class DepthNetwork {
  /** Normalised inputs are held within this many deviations. */
  public static final int REACH = 5;

  /** Bits of a normalised input behind the point. */
  public static final int INPUT_BITS = 12;

  /** Bits of an output behind the point. */
  public static final int OUTPUT_BITS = 16;

  /** Most bits of a hidden value behind the point. */
  public static final int MOST_HIDDEN_BITS = 15;

  /** One, as a leak. */
  public static final int LEAK_ONE = 1 << 15;

  private final float[] mean;
  private final float[] scale;
  private final List<DepthLayer> layers;
  private final int[] hiddenBits;
  private final int leak;

  /**
   * A network.
   *
   * @param mean mean of every input
   * @param scale one over the deviation of every input
   * @param layers the layers, each with as many inputs as the layer before has outputs
   * @param hiddenBits per hidden layer, how many bits of its values lie behind the point
   * @param leak slope of a hidden unit below zero, 1/32768
   * @throws IllegalArgumentException when the parts do not fit together
   */
  public DepthNetwork(
      float[] mean, float[] scale, List<DepthLayer> layers, int[] hiddenBits, int leak) {
    this.mean = mean.clone();
    this.scale = scale.clone();
    this.layers = List.copyOf(layers);
    this.hiddenBits = hiddenBits.clone();
    this.leak = leak;
    int width = mean.length;
    if (scale.length != width || layers.isEmpty() || hiddenBits.length != layers.size() - 1) {
      throw new IllegalArgumentException("the parts of the network do not fit together");
    }
    for (DepthLayer layer : layers) {
      if (layer.inputs() != width) {
        throw new IllegalArgumentException(
            "a layer has " + layer.inputs() + " inputs after a layer of " + width);
      }
      width = layer.outputs();
    }
    for (int i = 0; i < mean.length; i++) {
      if (!(Math.abs(mean[i]) <= Float.MAX_VALUE && scale[i] >= 0 && scale[i] <= Float.MAX_VALUE)) {
        throw new IllegalArgumentException(
            "input " + i + " has mean " + mean[i] + " and scale " + scale[i]);
      }
    }
    for (int bits : hiddenBits) {
      if (!(bits >= 0 && bits <= MOST_HIDDEN_BITS)) {
        throw new IllegalArgumentException(
            bits + " bits behind the point are outside 0 to " + MOST_HIDDEN_BITS);
      }
    }
    if (!(leak >= 0 && leak <= LEAK_ONE)) {
      throw new IllegalArgumentException("leak " + leak + " is outside 0 to " + LEAK_ONE);
    }
  }

  /**
   * A network that says nothing: all outputs are 0.
   *
   * @param inputs number of inputs
   * @param outputs number of outputs
   * @return the network
   */
  public static DepthNetwork silent(int inputs, int outputs) {
    return new DepthNetwork(
        new float[inputs],
        new float[inputs],
        List.of(new DepthLayer(new int[inputs + 1][outputs], new int[outputs], 1)),
        new int[0],
        0);
  }

  /**
   * Widths of the layers.
   *
   * @return inputs first
   */
  public int[] sizes() {
    int[] sizes = new int[layers.size() + 1];
    sizes[0] = mean.length;
    for (int i = 0; i < layers.size(); i++) {
      sizes[i + 1] = layers.get(i).outputs();
    }
    return sizes;
  }

  /**
   * Mean of an input.
   *
   * @param input which one
   * @return in the unit of the input
   */
  public float mean(int input) {
    return mean[input];
  }

  /**
   * One over the deviation of an input.
   *
   * @param input which one
   * @return in one over the unit of the input
   */
  public float scale(int input) {
    return scale[input];
  }

  /**
   * The layers.
   *
   * @return in the order of the data
   */
  public List<DepthLayer> layers() {
    return layers;
  }

  /**
   * Bits behind the point of the values before and after the layers.
   *
   * @return inputs first
   */
  public int[] bits() {
    int[] bits = new int[layers.size() + 1];
    bits[0] = INPUT_BITS;
    System.arraycopy(hiddenBits, 0, bits, 1, hiddenBits.length);
    bits[layers.size()] = OUTPUT_BITS;
    return bits;
  }

  /**
   * Slope of a hidden unit below zero.
   *
   * @return in 1/32768
   */
  public int leak() {
    return leak;
  }

  /**
   * Bits that hold every weight.
   *
   * @return 8 or 16
   */
  public int weightBits() {
    return layers.stream().allMatch(layer -> layer.most() <= Byte.MAX_VALUE) ? 8 : 16;
  }

  /**
   * How many multiplications and additions one pass takes.
   *
   * @return over all layers
   */
  public int products() {
    int sum = 0;
    for (DepthLayer layer : layers) {
      sum += layer.inputs() * layer.outputs();
    }
    return sum;
  }

  /** An input as the first layer takes it. */
  int normalised(int input, double value) {
    double z = (value - mean[input]) * scale[input];
    double held = z > REACH ? REACH : z < -REACH ? -REACH : z;
    double near = held * (1 << INPUT_BITS) + 0.5;
    int whole = (int) near; // towards zero, and 0 for no number
    return near < whole ? whole - 1 : whole;
  }
}
