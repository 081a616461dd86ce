package org.stopwell.harness.assess;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.stopwell.core.weights.DepthLayer;
import org.stopwell.core.weights.DepthNetwork;

/**
 * Turns a network with fractions into the whole numbers that a controller runs.
 *
 * <p>Every output of a layer has a scale of its own: the finest at which its weights have at most
 * the given bits and its sum cannot overflow 32 bits. How many bits of a hidden value lie behind
 * the point follows from the greatest value that some examples give.
 */
public final class Quantiser {
  /** Bits of a weight with its sign. docs/weights.md states what 8 lose against 16. */
  public static final int BITS = 8;

  /** Greatest hidden value over the greatest one in the examples; assumed. */
  private static final double MARGIN = 1.5;

  /** Room in a sum for what its weights are rounded by: half a unit times 32 767, 1024 times. */
  private static final double ROUNDING = 1024 * 0.5 * DepthLayer.MOST;

  private Quantiser() {}

  /**
   * Quantises with weights of {@value #BITS} bits.
   *
   * @param sizes width of every layer, inputs first
   * @param weights mean and reciprocal deviation per input, then per layer the weights from every
   *     input of it and the offsets
   * @param examples inputs of some examples, one after the other
   * @return the network in whole numbers
   */
  public static DepthNetwork quantise(int[] sizes, double[] weights, float[] examples) {
    return quantise(sizes, weights, examples, BITS);
  }

  /**
   * Quantises.
   *
   * @param sizes width of every layer, inputs first
   * @param weights mean and reciprocal deviation per input, then per layer the weights from every
   *     input of it and the offsets
   * @param examples inputs of some examples, one after the other
   * @param bits bits of a weight with its sign, 2 to 16
   * @return the network in whole numbers
   */
  public static DepthNetwork quantise(int[] sizes, double[] weights, float[] examples, int bits) {
    int[] hiddenBits = hiddenBits(sizes, weights, examples);
    int inputs = sizes[0];
    float[] mean = new float[inputs];
    float[] scale = new float[inputs];
    for (int i = 0; i < inputs; i++) {
      mean[i] = (float) weights[2 * i];
      scale[i] = (float) weights[2 * i + 1];
    }
    List<DepthLayer> layers = new ArrayList<>();
    int at = 2 * inputs;
    for (int l = 1; l < sizes.length; l++) {
      int from = l == 1 ? DepthNetwork.INPUT_BITS : hiddenBits[l - 2];
      int to = l == sizes.length - 1 ? DepthNetwork.OUTPUT_BITS : hiddenBits[l - 1];
      double[][] rows = new double[sizes[l - 1] + 1][];
      for (int i = 0; i < rows.length; i++) {
        rows[i] = Arrays.copyOfRange(weights, at, at + sizes[l]);
        at += sizes[l];
      }
      layers.add(layer(rows, from, to, bits));
    }
    int leak = (int) Math.rint(FloatNetwork.SLOPE * DepthNetwork.LEAK_ONE);
    return new DepthNetwork(mean, scale, layers, hiddenBits, leak);
  }

  /**
   * Quantises one layer.
   *
   * @param rows weight to every output, a row per input, and a last row of offsets
   * @param bitsIn bits of an input behind the point
   * @param bitsOut bits of an output behind the point
   * @param bits bits of a weight with its sign, 2 to 16
   * @return the layer in whole numbers
   */
  public static DepthLayer layer(double[][] rows, int bitsIn, int bitsOut, int bits) {
    int inputs = rows.length - 1;
    int outputs = rows[0].length;
    double[] wanted = new double[outputs];
    double greatest = 0;
    for (int j = 0; j < outputs; j++) {
      double most = 0;
      double sum = Math.abs(StrictMath.scalb(rows[inputs][j], bitsIn));
      for (int i = 0; i < inputs; i++) {
        most = Math.max(most, Math.abs(rows[i][j]));
        sum += Math.abs(rows[i][j]) * DepthLayer.MOST;
      }
      double top = (1 << (bits - 1)) - 1;
      double step = Math.max(most / top, sum / (Integer.MAX_VALUE - ROUNDING));
      wanted[j] = StrictMath.scalb(step, bitsOut - bitsIn);
      greatest = Math.max(greatest, wanted[j]);
    }
    int shift = 1;
    while (shift < DepthLayer.MOST_SHIFT
        && StrictMath.scalb(greatest, shift + 1) < Integer.MAX_VALUE - 1) {
      shift++;
    }
    int[] multipliers = new int[outputs];
    int[][] whole = new int[inputs + 1][outputs];
    for (int j = 0; j < outputs; j++) {
      // rounded up, so that no weight has too many bits
      multipliers[j] = (int) Math.ceil(StrictMath.scalb(wanted[j], shift));
      double step = StrictMath.scalb((double) multipliers[j], bitsIn - bitsOut - shift);
      for (int i = 0; i < inputs; i++) {
        whole[i][j] = step == 0 ? 0 : (int) Math.rint(rows[i][j] / step);
      }
      whole[inputs][j] =
          step == 0 ? 0 : (int) Math.rint(StrictMath.scalb(rows[inputs][j], bitsIn) / step);
    }
    return new DepthLayer(whole, multipliers, shift);
  }

  private static int[] hiddenBits(int[] sizes, double[] weights, float[] examples) {
    FloatNetwork network = FloatNetwork.of(sizes, FloatNetwork.NOTHING, weights);
    float[][] values = network.room();
    double[] reach = new double[sizes.length - 2];
    for (int k = 0; k + sizes[0] <= examples.length; k += sizes[0]) {
      network.run(examples, k, values);
      for (int l = 0; l < reach.length; l++) {
        for (float value : values[l + 1]) {
          reach[l] = Math.max(reach[l], Math.abs(value));
        }
      }
    }
    int[] bits = new int[reach.length];
    for (int l = 0; l < bits.length; l++) {
      bits[l] = DepthNetwork.MOST_HIDDEN_BITS;
      while (bits[l] > 0
          && StrictMath.scalb(MARGIN * Math.max(1, reach[l]), bits[l]) > DepthLayer.MOST) {
        bits[l]--;
      }
    }
    return bits;
  }

  /**
   * How many weights a network has.
   *
   * @param sizes width of every layer, inputs first
   * @return the length of its weights
   */
  public static int weightCount(int... sizes) {
    int n = 2 * sizes[0];
    for (int i = 1; i < sizes.length; i++) {
      n += (sizes[i - 1] + 1) * sizes[i];
    }
    return n;
  }

  /**
   * The way back: the weights with fractions of a network in whole numbers, for a fit to start
   * from.
   *
   * @param network the network
   * @return its weights, as {@link #quantise(int[], double[], float[])} takes them
   */
  public static double[] weights(DepthNetwork network) {
    int[] sizes = network.sizes();
    int[] bits = network.bits();
    double[] all = new double[weightCount(sizes)];
    int n = 0;
    for (int i = 0; i < sizes[0]; i++) {
      all[n++] = network.mean(i);
      all[n++] = network.scale(i);
    }
    List<DepthLayer> layers = network.layers();
    for (int l = 0; l < layers.size(); l++) {
      DepthLayer layer = layers.get(l);
      for (int i = 0; i < layer.inputs(); i++) {
        for (int j = 0; j < layer.outputs(); j++) {
          all[n++] = layer.weight(i, j) * step(layer, j, bits[l], bits[l + 1]);
        }
      }
      for (int j = 0; j < layer.outputs(); j++) {
        all[n++] =
            layer.offset(j)
                * step(layer, j, bits[l], bits[l + 1])
                * StrictMath.scalb(1.0, -bits[l]);
      }
    }
    return all;
  }

  /** What one unit of a weight is worth. */
  static double step(DepthLayer layer, int output, int bitsIn, int bitsOut) {
    return StrictMath.scalb((double) layer.multiplier(output), bitsIn - bitsOut - layer.shift());
  }
}
