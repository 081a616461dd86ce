package org.stopwell.harness.assess;

import static org.stopwell.core.sense.DepthEstimate.REMAINING;

import java.util.Arrays;
import org.stopwell.core.weights.DepthWeights;

/**
 * The layers of a network in single precision. Inputs are normalised already. Per layer a row per
 * input and a row of offsets, each an array of its own, because the compiler vectorises only where
 * it can tell two rows apart.
 */
public final class FloatLayers {
  /** Bound of the logarithm of a standard error, either way, as in the core. */
  public static final float MOST_LOG = 3;

  /** Where the outputs hold the logarithm of the standard error of the distance. */
  public static final int LOG_ERROR = DepthWeights.TARGETS + REMAINING;

  private final float[][][] rows;
  private final float slope;

  /**
   * Layers.
   *
   * @param rows the weights by layer and input; they can be changed
   * @param slope of a hidden unit below zero
   */
  public FloatLayers(float[][][] rows, float slope) {
    this.rows = rows;
    this.slope = slope;
  }

  /**
   * The weights.
   *
   * @return the arrays themselves, by layer and input
   */
  public float[][][] rows() {
    return rows;
  }

  /**
   * Slope of a hidden unit below zero.
   *
   * @return as given
   */
  public float slope() {
    return slope;
  }

  /**
   * Widths of the layers.
   *
   * @return inputs first
   */
  public int[] sizes() {
    int[] sizes = new int[rows.length + 1];
    for (int l = 0; l < rows.length; l++) {
      sizes[l] = rows[l].length - 1;
      sizes[l + 1] = rows[l][0].length;
    }
    return sizes;
  }

  /**
   * A copy that can be changed alone.
   *
   * @return with arrays of its own
   */
  public FloatLayers copy() {
    float[][][] copy = new float[rows.length][][];
    Arrays.setAll(copy, l -> Arrays.stream(rows[l]).map(float[]::clone).toArray(float[][]::new));
    return new FloatLayers(copy, slope);
  }

  /**
   * Memory for {@link #run}.
   *
   * @return room for the values of every layer
   */
  public float[][] values() {
    return Arrays.stream(sizes()).mapToObj(float[]::new).toArray(float[][]::new);
  }

  /**
   * Works out the outputs.
   *
   * @param values what {@link #values} gave; the first array holds the inputs
   * @return the outputs: the last array of the memory
   */
  public float[] run(float[][] values) {
    for (int l = 0; l < rows.length; l++) {
      float[] from = values[l];
      float[] to = values[l + 1];
      System.arraycopy(rows[l][from.length], 0, to, 0, to.length);
      addRows(to, rows[l], from);
      if (l < rows.length - 1) {
        for (int j = 0; j < to.length; j++) {
          to[j] = Math.max(to[j], slope * to[j]);
        }
      }
    }
    return values[rows.length];
  }

  /**
   * Adds the rows of a table, each multiplied by its factor.
   *
   * @param to what they are added to
   * @param rows the table, at least as many rows as factors
   * @param times the factors
   */
  public static void addRows(float[] to, float[][] rows, float[] times) {
    int r = 0;
    for (; r + 4 <= times.length; r += 4) {
      addFour(to, rows, r, times[r], times[r + 1], times[r + 2], times[r + 3]);
    }
    for (; r < times.length; r++) {
      addOne(to, rows[r], times[r]);
    }
  }

  /**
   * Adds one row.
   *
   * @param to what it is added to
   * @param row the row
   * @param times its factor
   */
  public static void addOne(float[] to, float[] row, float times) {
    for (int j = 0; j < to.length; j++) {
      to[j] += times * row[j];
    }
  }

  /**
   * Adds four rows at once: one by one the speed is limited by memory.
   *
   * @param to what they are added to
   * @param rows the table
   * @param at index of the first of the four
   * @param a its factor
   * @param b that of the second
   * @param c that of the third
   * @param d that of the fourth
   */
  public static void addFour(
      float[] to, float[][] rows, int at, float a, float b, float c, float d) {
    float[] one = rows[at];
    float[] two = rows[at + 1];
    float[] three = rows[at + 2];
    float[] four = rows[at + 3];
    for (int j = 0; j < to.length; j++) {
      to[j] += a * one[j] + b * two[j] + c * three[j] + d * four[j];
    }
  }

  /**
   * How far a layer has moved.
   *
   * @param start the layers before
   * @param layer which, from 0
   * @return root mean square change of its weights over their root mean square before
   */
  public double movedFrom(FloatLayers start, int layer) {
    double change = 0;
    double before = 0;
    for (int i = 0; i < rows[layer].length; i++) {
      for (int j = 0; j < rows[layer][i].length; j++) {
        double w = start.rows[layer][i][j];
        double d = rows[layer][i][j] - w;
        change += d * d;
        before += w * w;
      }
    }
    return before > 0 ? Math.sqrt(change / before) : 0;
  }
}
