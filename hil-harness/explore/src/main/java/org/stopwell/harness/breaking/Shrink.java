package org.stopwell.harness.breaking;

import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;

/** Makes a disturbance that over-travels smaller until no part of it can be missing. */
final class Shrink {
  /** A share is known to this part of itself. */
  static final double PRECISION = 0.01;

  /** A share below this part of itself is none. */
  private static final double LEAST = 1.0 / 4096;

  /** The margin at which a shrunk disturbance no longer over-travels. */
  static final double BELOW = 0.95;

  /** Rounds of dropping and bisecting; two are usual. */
  private static final int MOST_ROUNDS = 10;

  private final Arena arena;
  private final List<Ingredient> ingredients;

  Shrink(Arena arena) {
    this.arena = arena;
    this.ingredients = arena.ingredients();
  }

  /**
   * The least disturbance on the way from this one to none: every ingredient that is left is
   * needed, and none can be smaller while the others stay.
   *
   * @param past a disturbance that over-travels
   */
  double[] least(double[] past) {
    double[] at = onRay(withoutEach(past));
    for (int round = 0; round < MOST_ROUNDS; round++) {
      for (int i : largestFirst(at)) {
        at = bisected(at, i);
      }
      double[] less = withoutEach(at);
      double[] below = scaled(less, BELOW);
      if (arena.isPast(below)) {
        at = below; // a gap in the over-travels between this and a smaller one
      } else if (arena.size(less) < arena.size(at)) {
        at = less;
      } else {
        return at;
      }
    }
    return at;
  }

  /** All that count times a factor. */
  double[] scaled(double[] shares, double by) {
    double[] scaled = shares.clone();
    for (int i = 0; i < scaled.length; i++) {
      scaled[i] = ingredients.get(i).free() ? scaled[i] : scaled[i] * by;
    }
    return scaled;
  }

  /** Without the ingredients that are not needed, the largest tried first. */
  private double[] withoutEach(double[] past) {
    double[] at = past;
    for (int i : largestFirst(at)) {
      double[] without = at.clone();
      without[i] = 0;
      if (arena.isPast(without)) {
        at = without;
      }
    }
    return at;
  }

  private List<Integer> largestFirst(double[] shares) {
    return IntStream.range(0, shares.length)
        .filter(i -> !ingredients.get(i).free() && shares[i] != 0)
        .boxed()
        .sorted(Comparator.comparingDouble(i -> -Math.abs(shares[i])))
        .toList();
  }

  private double[] onRay(double[] past) {
    double low = 0;
    double high = 1;
    while (high - low > PRECISION * high && high > LEAST) {
      double middle = (low + high) / 2;
      if (arena.isPast(scaled(past, middle))) {
        high = middle;
      } else {
        low = middle;
      }
    }
    return scaled(past, high);
  }

  private double[] bisected(double[] past, int i) {
    double[] at = past.clone();
    double low = 0;
    double high = 1;
    while (high - low > PRECISION * high && high > LEAST) {
      double middle = (low + high) / 2;
      at[i] = past[i] * middle;
      if (arena.isPast(at)) {
        high = middle;
      } else {
        low = middle;
      }
    }
    at[i] = past[i] * high;
    return at;
  }
}
