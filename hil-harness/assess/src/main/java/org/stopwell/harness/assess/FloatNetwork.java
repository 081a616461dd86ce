package org.stopwell.harness.assess;

import java.util.List;
import org.stopwell.core.weights.DepthLayer;
import org.stopwell.core.weights.DepthNetwork;

/**
 * A network with fractions, as a fit works on it. {@link Quantiser} makes the whole numbers of it
 * that a controller runs.
 */
public final class FloatNetwork {
  /** Slope of a hidden unit below zero. */
  static final double LEAK = 0.05;

  /** Bounds of the logarithm of a standard error. */
  private static final double MOST_LOG = 3;

  /** No input that the first estimate corrects. */
  public static final int NOTHING = -1;

  private final int corrected;
  private final double[] weights;
  private final double[][][] tables;
  private final double[][] values;

  /**
   * A network.
   *
   * @param sizes width of every layer, inputs first
   * @param corrected which input the first estimate is a correction of, {@link #NOTHING} for none
   * @param weights mean and reciprocal deviation per input, then per layer the weights from every
   *     input of it and the offsets
   */
  public FloatNetwork(int[] sizes, int corrected, double[] weights) {
    this.corrected = corrected;
    this.weights = weights.clone();
    values = new double[sizes.length][];
    tables = new double[sizes.length - 1][][];
    int at = 2 * sizes[0];
    for (int i = 0; i < sizes.length; i++) {
      values[i] = new double[sizes[i]];
      if (i > 0) {
        double[][] table = new double[sizes[i - 1] + 1][sizes[i]];
        for (double[] row : table) {
          System.arraycopy(weights, at, row, 0, row.length);
          at += row.length;
        }
        tables[i - 1] = table;
      }
    }
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
   * @return its weights, in the order of the constructor
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

  /**
   * Where the features go.
   *
   * @return the array itself
   */
  public double[] inputs() {
    return values[0];
  }

  /**
   * Where the estimates are: first all of them, then the logarithms of their standard errors.
   *
   * @return the array itself
   */
  public double[] outputs() {
    return values[values.length - 1];
  }

  /** The values of a layer after a run. */
  double[] values(int layer) {
    return values[layer];
  }

  /** Turns {@link #inputs}, which it overwrites, into {@link #outputs}. */
  public void run() {
    double[] from = values[0];
    double before = corrected == NOTHING ? 0 : from[corrected];
    for (int i = 0; i < from.length; i++) {
      double scaled = (from[i] - weights[2 * i]) * weights[2 * i + 1];
      from[i] = Math.max(-DepthNetwork.REACH, Math.min(DepthNetwork.REACH, scaled));
    }
    for (int layer = 0; layer < tables.length; layer++) {
      double[] to = values[layer + 1];
      double[][] rows = tables[layer];
      System.arraycopy(rows[from.length], 0, to, 0, to.length);
      for (int i = 0; i < from.length; i++) {
        double[] row = rows[i];
        double times = from[i];
        for (int j = 0; j < to.length; j++) {
          to[j] += times * row[j];
        }
      }
      if (layer < tables.length - 1) {
        for (int j = 0; j < to.length; j++) {
          to[j] = Math.max(to[j], LEAK * to[j]);
        }
      }
      from = to;
    }
    from[0] += before;
    for (int j = from.length / 2; j < from.length; j++) {
      from[j] = Math.max(-MOST_LOG, Math.min(MOST_LOG, from[j]));
    }
  }
}
