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

  private final int corrected;
  private final double[] weights;

  // per layer, a row per input and one of offsets; rows are arrays of their own, since a compiler
  // works on many columns at once only where it sees no two rows in one array
  private final double[][][] tables;
  private final double[][] values;

  /**
   * A network.
   *
   * @param sizes width of every layer, inputs first
   * @param corrected which input the first estimate is a correction of, {@link #NOTHING} for none
   * @param weights mean and reciprocal deviation per input, then per layer the weights from every
   *     input of it and the offsets; must not change any more
   */
  public DepthNetwork(int[] sizes, int corrected, double[] weights) {
    this.corrected = corrected;
    this.weights = weights;
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
    for (int i = 0; i < from.length; i++) {
      double scaled = (from[i] - weights[2 * i]) * weights[2 * i + 1];
      from[i] = Math.max(-REACH, Math.min(REACH, scaled));
    }
    for (int layer = 0; layer < tables.length; layer++) {
      double[] to = values[layer + 1];
      double[][] rows = tables[layer];
      System.arraycopy(rows[from.length], 0, to, 0, to.length);
      int i = 0;
      for (; i + 4 <= from.length; i += 4) {
        addFour(to, rows, i, from);
      }
      for (; i < from.length; i++) {
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
      from[j] = Math.max(LEAST_LOG, Math.min(MOST_LOG, from[j]));
    }
  }

  /** Four rows at once: one by one waits for memory and not for sums. */
  private static void addFour(double[] to, double[][] rows, int at, double[] times) {
    double[] one = rows[at];
    double[] two = rows[at + 1];
    double[] three = rows[at + 2];
    double[] four = rows[at + 3];
    double a = times[at];
    double b = times[at + 1];
    double c = times[at + 2];
    double d = times[at + 3];
    for (int j = 0; j < to.length; j++) {
      to[j] += a * one[j] + b * two[j] + c * three[j] + d * four[j];
    }
  }
}
