package org.stopwell.core.sense;

import org.stopwell.core.trace.StateHash;

/**
 * A small feed-forward network: features in, estimates with their standard errors out. The weights
 * are fitted offline; what runs here is additions and multiplications in a fixed order.
 */
public final class DepthNetwork {
  /** Slope of a hidden unit below zero. */
  static final double LEAK = 0.05;

  /** Features are held within this many standard deviations of their training mean. */
  static final double REACH = 5;

  /** Bounds of the logarithm of a standard error. */
  static final double LEAST_LOG = -3;

  static final double MOST_LOG = 3;

  private static final String DIGITS =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

  private static final int BITS_PER_DIGIT = 6;
  private static final int DIGITS_PER_WEIGHT = 4;
  private static final int DROPPED_BITS = 8;

  /** No input that the first estimate corrects. */
  public static final int NOTHING = -1;

  private final int[] sizes;
  private final int corrected;
  private final double[] weights;
  private final double[][] values;

  /**
   * A network.
   *
   * @param sizes width of every layer, inputs first
   * @param corrected which input the first estimate is a correction of, {@link #NOTHING} for none
   * @param weights not copied: mean and reciprocal deviation per input, then per layer the weights
   *     from every input of it and the offsets
   */
  public DepthNetwork(int[] sizes, int corrected, double[] weights) {
    this.sizes = sizes.clone();
    this.corrected = corrected;
    this.weights = weights;
    values = new double[sizes.length][];
    for (int i = 0; i < sizes.length; i++) {
      values[i] = new double[sizes[i]];
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
   * Reads weights from text: four digits each, the upper 24 bits of a float.
   *
   * @param lines what {@link #encode} wrote, cut into lines
   * @return the weights
   */
  public static double[] decode(String... lines) {
    String text = String.join("", lines);
    double[] weights = new double[text.length() / DIGITS_PER_WEIGHT];
    for (int i = 0; i < weights.length; i++) {
      int bits = 0;
      for (int d = 0; d < DIGITS_PER_WEIGHT; d++) {
        bits = (bits << BITS_PER_DIGIT) | DIGITS.indexOf(text.charAt(i * DIGITS_PER_WEIGHT + d));
      }
      weights[i] = Float.intBitsToFloat(bits << DROPPED_BITS);
    }
    return weights;
  }

  /**
   * Writes weights as text.
   *
   * @param weights the weights
   * @return four digits each
   */
  public static String encode(double[] weights) {
    StringBuilder text = new StringBuilder(weights.length * DIGITS_PER_WEIGHT);
    for (double weight : weights) {
      int bits = Float.floatToIntBits((float) weight) >>> DROPPED_BITS;
      for (int d = DIGITS_PER_WEIGHT - 1; d >= 0; d--) {
        text.append(DIGITS.charAt((bits >>> (BITS_PER_DIGIT * d)) & 63));
      }
    }
    return text.toString();
  }

  /**
   * Where the features go; the first numbers of it are for the caller to fill.
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

  /** Folds the weights into a hash. */
  long mixWeights(long hash) {
    long h = hash;
    for (double weight : weights) {
      h = StateHash.mix(h, weight);
    }
    return h;
  }

  /** Turns {@link #inputs}, which it overwrites, into {@link #outputs}. */
  public void run() {
    double[] from = values[0];
    double before = corrected == NOTHING ? 0 : from[corrected];
    int at = 0;
    for (int i = 0; i < from.length; i++) {
      double scaled = (from[i] - weights[at]) * weights[at + 1];
      from[i] = Math.max(-REACH, Math.min(REACH, scaled));
      at += 2;
    }
    for (int layer = 1; layer < sizes.length; layer++) {
      double[] to = values[layer];
      int bias = at + from.length * to.length;
      for (int j = 0; j < to.length; j++) {
        to[j] = weights[bias + j];
      }
      for (double input : from) {
        for (int j = 0; j < to.length; j++) {
          to[j] += input * weights[at + j];
        }
        at += to.length;
      }
      at += to.length;
      if (layer < sizes.length - 1) {
        for (int j = 0; j < to.length; j++) {
          to[j] = Math.max(to[j], LEAK * to[j]);
        }
      }
      from = to;
    }
    from[0] += before;
    for (int j = from.length / 2; j < from.length; j++) {
      from[j] = Math.max(LEAST_LOG, Math.min(MOST_LOG, from[j]));
    }
  }
}
