package org.stopwell.rig.physics.field;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.number.Elementary;

/**
 * The field of one tooth and file over the height of the tip and the level of the fluid, solved
 * where it is first asked for and kept; several threads may ask. Logarithm and phase of each
 * admittance are interpolated: between four heights by a cubic, between two levels straight over
 * the logarithm of the depth of the fluid. Units SI.
 */
final class FieldTable {
  /** Deeper than this past the foramen the field does not change, m. */
  static final double DEEPEST = -2.5e-3;

  // heights of the tip near the foramen, where it meets tissue, and their distance above it, m
  private static final double FINEST = 0.05e-3;
  private static final double FINE_BELOW = 0.3e-3;
  private static final double FINE_ABOVE = 0.5e-3;
  private static final double GROWTH = 1.1;
  private static final double COARSEST = 1e-3;

  /** The highest tip lies so far below the orifice, m. */
  private static final double BELOW_ORIFICE = 0.05e-3;

  /** Heights below the highest, where little of the file is in the canal, m. */
  private static final double[] BELOW_HIGHEST = {0.6e-3, 0.3e-3, 0.12e-3};

  /** Depth of the fluid above tip or foramen as a share of that of a full canal. */
  private static final double[] SHARE = shares();

  private static final double[] LOG_SHARE = logs();

  private final double length;
  private final double[] tip;
  private final int numbers;
  private final @Nullable Entry[] entries;

  /** A solved place. Its field is final, so a thread that sees the entry sees its numbers too. */
  private static final class Entry {
    final double[] logs;

    Entry(double[] logs) {
      this.logs = logs;
    }
  }

  FieldTable(double length, int frequencies) {
    this.length = length;
    tip = tips(length - BELOW_ORIFICE);
    numbers = frequencies * FieldSolver.NUMBERS;
    entries = new Entry[tip.length * (SHARE.length + 1)];
  }

  private static double[] shares() {
    double[] all = new double[40];
    int n = 0;
    for (double share = 0.003; share < 0.29; share *= 1.4) {
      all[n++] = share;
    }
    for (double share = 0.3; share < 1.01; share += 0.05) {
      all[n++] = Math.min(1, share);
    }
    return Arrays.copyOf(all, n);
  }

  private static double[] logs() {
    return Arrays.stream(SHARE).map(Elementary::log).toArray();
  }

  /** Heights of the tip from deep in the tissue up to the highest. */
  private static double[] tips(double highest) {
    double[] all = new double[120];
    int n = 0;
    for (double below = DEEPEST; below < -1.01 * FINE_BELOW; below *= 0.8) {
      all[n++] = below;
    }
    for (int i = 0; (i - 6) * FINEST <= FINE_ABOVE; i++) {
      all[n++] = (i - 6) * FINEST;
    }
    double step = GROWTH * FINEST;
    while (all[n - 1] + 1.5 * step < highest) {
      all[n] = all[n - 1] + step;
      step = Math.min(COARSEST, GROWTH * step);
      n++;
    }
    for (double below : BELOW_HIGHEST) {
      if (highest - below > all[n - 1] + below) {
        all[n++] = highest - below;
      }
    }
    all[n++] = highest;
    return Arrays.copyOf(all, n);
  }

  /**
   * Interpolates.
   *
   * @param remaining height of the tip, m
   * @param level level of the fluid, m
   * @param solver solves what is missing
   * @param four room for the entries at four heights
   * @param to admittances in the order of the solver, S
   */
  void at(double remaining, double level, FieldSolver solver, double[][] four, double[] to) {
    double z = Math.max(tip[0], Math.min(tip[tip.length - 1], remaining));
    int below = 0;
    while (below < tip.length - 2 && tip[below + 1] <= z) {
      below++;
    }
    boolean chamber = level > length;
    double base = Math.max(z, 0);
    double share = Math.max(SHARE[0], Math.min(1, (level - base) / (length - base)));
    int low = 0;
    while (low < SHARE.length - 2 && SHARE[low + 1] <= share) {
      low++;
    }
    double between =
        (Elementary.log(share) - LOG_SHARE[low]) / (LOG_SHARE[low + 1] - LOG_SHARE[low]);
    for (int i = 0; i < 4; i++) {
      int at = Math.max(0, Math.min(tip.length - 1, below - 1 + i));
      if (chamber) {
        System.arraycopy(entry(at, SHARE.length, solver), 0, four[i], 0, numbers);
      } else {
        double[] lower = entry(at, low, solver);
        double[] upper = entry(at, low + 1, solver);
        for (int k = 0; k < numbers; k++) {
          four[i][k] = lower[k] + between * (upper[k] - lower[k]);
        }
      }
    }
    cubic(four, below, z);
    for (int k = 0; k < numbers; k += 2) {
      double size = Elementary.exp(four[0][k]);
      to[k] = size * Elementary.cos(four[0][k + 1]);
      to[k + 1] = size * Elementary.sin(four[0][k + 1]);
    }
  }

  /** Hermite's cubic between the middle two of four, with slopes from their neighbours. */
  private void cubic(double[][] four, int below, double z) {
    double before = tip[Math.max(0, below - 1)];
    double low = tip[below];
    double high = tip[below + 1];
    double after = tip[Math.min(tip.length - 1, below + 2)];
    double h = high - low;
    double t = (z - low) / h;
    double a = (1 + 2 * t) * (1 - t) * (1 - t);
    double b = t * (1 - t) * (1 - t);
    double c = t * t * (3 - 2 * t);
    double d = t * t * (t - 1);
    for (int k = 0; k < numbers; k++) {
      double slope = (four[2][k] - four[1][k]) / h;
      double first =
          low > before ? weighed(slope, h, four[1][k] - four[0][k], low - before) : slope;
      double last = after > high ? weighed(slope, h, four[3][k] - four[2][k], after - high) : slope;
      four[0][k] = a * four[1][k] + b * h * first + c * four[2][k] + d * h * last;
    }
  }

  /** Slope of the parabola through three points at the middle one. */
  private static double weighed(double slope, double h, double rise, double other) {
    return (slope * other + rise / other * h) / (h + other);
  }

  private double[] entry(int row, int column, FieldSolver solver) {
    int at = row * (SHARE.length + 1) + column;
    Entry known = entries[at];
    if (known != null) {
      return known.logs;
    }
    double base = Math.max(tip[row], 0);
    // a chamber filled to any depth is one terminal
    double level = column == SHARE.length ? length + 1 : base + SHARE[column] * (length - base);
    solver.solve(tip[row], level);
    double[] logs = new double[numbers];
    for (int k = 0; k < numbers; k += 2) {
      double re = solver.solved[k];
      double im = solver.solved[k + 1];
      logs[k] = 0.5 * Elementary.log(Math.max(re * re + im * im, Double.MIN_NORMAL));
      logs[k + 1] = Elementary.atan2(im, re);
    }
    entries[at] = new Entry(logs);
    return logs;
  }
}
