package org.stopwell.harness.learn;

import static org.stopwell.core.sense.DepthEstimate.REMAINING;

import java.util.Arrays;
import org.stopwell.core.weights.DepthWeights;

/**
 * The network of a single approach in floating point. Inputs are normalised already. Per layer a
 * row per input and a row of offsets, each an array of its own, because the compiler vectorises
 * only where it can tell two rows apart.
 */
final class FloatLayers {
  /** Bounds of the logarithm of a standard error, as in the core. */
  static final float MOST_LOG = 3;

  /** Where the outputs hold the logarithm of the standard error of the distance. */
  static final int LOG_ERROR = DepthWeights.TARGETS + REMAINING;

  private final float[][][] rows;
  private final float slope;

  /**
   * Layers.
   *
   * @param rows the weights by layer and input; they can be changed
   * @param slope of a hidden unit below zero
   */
  FloatLayers(float[][][] rows, float slope) {
    this.rows = rows;
    this.slope = slope;
  }

  float[][][] rows() {
    return rows;
  }

  float slope() {
    return slope;
  }

  /** Widths of the layers, inputs first. */
  int[] sizes() {
    int[] sizes = new int[rows.length + 1];
    for (int l = 0; l < rows.length; l++) {
      sizes[l] = rows[l].length - 1;
      sizes[l + 1] = rows[l][0].length;
    }
    return sizes;
  }

  FloatLayers copy() {
    float[][][] copy = new float[rows.length][][];
    Arrays.setAll(copy, l -> Arrays.stream(rows[l]).map(float[]::clone).toArray(float[][]::new));
    return new FloatLayers(copy, slope);
  }

  /** Memory for {@link #run}. */
  float[][] values() {
    return Arrays.stream(sizes()).mapToObj(float[]::new).toArray(float[][]::new);
  }

  /** Works out the outputs, the last array of the memory, from its first. */
  float[] run(float[][] values) {
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

  /** Adds the rows of a table, each multiplied by its factor. */
  static void addRows(float[] to, float[][] rows, float[] times) {
    int r = 0;
    for (; r + 4 <= times.length; r += 4) {
      addFour(to, rows, r, times[r], times[r + 1], times[r + 2], times[r + 3]);
    }
    for (; r < times.length; r++) {
      float[] row = rows[r];
      float t = times[r];
      for (int j = 0; j < to.length; j++) {
        to[j] += t * row[j];
      }
    }
  }

  /** Adds four rows at once: one by one the speed is limited by memory. */
  static void addFour(float[] to, float[][] rows, int at, float a, float b, float c, float d) {
    float[] one = rows[at];
    float[] two = rows[at + 1];
    float[] three = rows[at + 2];
    float[] four = rows[at + 3];
    for (int j = 0; j < to.length; j++) {
      to[j] += a * one[j] + b * two[j] + c * three[j] + d * four[j];
    }
  }

  /** Root mean square change of the weights of a layer over their root mean square before. */
  double movedFrom(FloatLayers start, int layer) {
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
