package org.stopwell.harness.stats;

import java.util.Arrays;
import java.util.Comparator;
import java.util.function.ToDoubleFunction;

/** The least value of a smooth function of a few variables (Nelder and Mead 1965). */
final class Simplex {
  private static final int MOST_STEPS = 2000;

  private final ToDoubleFunction<double[]> function;

  Simplex(ToDoubleFunction<double[]> function) {
    this.function = function;
  }

  @SuppressWarnings("ArrayRecordComponent") // Only used within.
  private record Corner(double[] at, double value) {}

  /** Where the function is least, looked for from a start with corners so far away. */
  double[] least(double[] start, double size) {
    int n = start.length;
    if (n == 0) {
      return start;
    }
    Corner[] corners = new Corner[n + 1];
    for (int i = 0; i <= n; i++) {
      double[] at = start.clone();
      if (i < n) {
        at[i] += size * Math.max(1, Math.abs(at[i]));
      }
      corners[i] = corner(at);
    }
    for (int step = 0; step < MOST_STEPS; step++) {
      Arrays.sort(corners, Comparator.comparingDouble(Corner::value));
      if (isSmall(corners)) {
        break;
      }
      double[] middle = new double[n];
      for (int i = 0; i < n; i++) {
        for (int k = 0; k < n; k++) {
          middle[k] += corners[i].at[k] / n;
        }
      }
      Corner worst = corners[n];
      Corner over = corner(between(middle, worst.at, -1));
      if (over.value < corners[0].value) {
        Corner further = corner(between(middle, worst.at, -2));
        corners[n] = further.value < over.value ? further : over;
      } else if (over.value < corners[n - 1].value) {
        corners[n] = over;
      } else {
        Corner nearer = corner(between(middle, worst.at, over.value < worst.value ? -0.5 : 0.5));
        if (nearer.value < Math.min(over.value, worst.value)) {
          corners[n] = nearer;
        } else {
          for (int i = 1; i <= n; i++) {
            corners[i] = corner(between(corners[0].at, corners[i].at, 0.5));
          }
        }
      }
    }
    return corners[0].at;
  }

  private static boolean isSmall(Corner[] corners) {
    for (Corner c : corners) {
      for (int k = 0; k < c.at.length; k++) {
        double reach = 1e-9 * Math.max(1, Math.abs(corners[0].at[k]));
        if (Math.abs(c.at[k] - corners[0].at[k]) > reach) {
          return false;
        }
      }
    }
    return true;
  }

  private static double[] between(double[] from, double[] to, double share) {
    double[] at = new double[from.length];
    for (int k = 0; k < at.length; k++) {
      at[k] = from[k] + share * (to[k] - from[k]);
    }
    return at;
  }

  private Corner corner(double[] at) {
    double value = function.applyAsDouble(at);
    return new Corner(at, Double.isNaN(value) ? Double.POSITIVE_INFINITY : value);
  }
}
