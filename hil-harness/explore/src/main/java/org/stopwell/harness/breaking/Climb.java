package org.stopwell.harness.breaking;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.explore.Evolution;
import org.stopwell.rig.random.RandomStream;

/**
 * Walks from one disturbance towards a small one that over-travels: first nearer to the
 * over-travel, then, past it, to a smaller size.
 */
final class Climb {
  /** First standard deviation of the walk, as a share of the ranges. */
  private static final double SPREAD = 0.3;

  private static final double FINE_SPREAD = 0.05;

  private final Arena arena;
  private final List<Ingredient> ingredients;
  private final Consumer<double[]> smaller;
  private int nearest = Integer.MAX_VALUE;
  private double smallest = Double.POSITIVE_INFINITY;
  private double @Nullable [] best;

  /**
   * A walk.
   *
   * @param arena where
   * @param smaller receives each over-travel that is smaller than those before it
   */
  Climb(Arena arena, Consumer<double[]> smaller) {
    this.arena = arena;
    this.ingredients = arena.ingredients();
    this.smaller = smaller;
  }

  /** From a drawn disturbance. */
  Optional<double[]> fromChance(RandomStream random, int steps) {
    double[] start = new double[ingredients.size()];
    for (int i = 0; i < start.length; i++) {
      Ingredient one = ingredients.get(i);
      // Of hand and noise a half takes part. A fault takes part always: half of one is none.
      boolean takesPart = one.group() == Ingredient.Group.FAULTS || random.nextDouble() < 0.5;
      double share = random.nextBetween(one.low(), 1);
      start[i] = takesPart ? share : 0;
    }
    return walk(start, SPREAD, random, steps);
  }

  /** From a disturbance that over-travels. */
  double[] near(double[] past, RandomStream random, int steps) {
    return walk(past, FINE_SPREAD, random, steps).orElse(past);
  }

  private Optional<double[]> walk(double[] start, double spread, RandomStream random, int steps) {
    badness(start);
    double[] at = new double[start.length];
    Arrays.setAll(at, i -> (start[i] - low(i)) / (1 - low(i)));
    int population = 4 + (int) (3 * StrictMath.log(start.length)); // Hansen's usual one
    Evolution.search(u -> badness(shares(u)), at, spread, population, random.nextLong(), steps);
    return Optional.ofNullable(best);
  }

  /** A point of the unit cube as shares. */
  private double[] shares(double[] unit) {
    double[] shares = new double[unit.length];
    Arrays.setAll(shares, i -> low(i) + unit[i] * (1 - low(i)));
    return shares;
  }

  private double low(int i) {
    return ingredients.get(i).low();
  }

  /** Below 1 past the foramen, by size; above 1 short of it, by distance. */
  private double badness(double[] shares) {
    int clearance = arena.clearance(shares);
    if (clearance >= 0) {
      nearest = Math.min(nearest, clearance);
      return 1 + clearance * 1e-3;
    }
    double size = arena.size(shares);
    if (size < smallest) {
      smallest = size;
      best = shares.clone();
      smaller.accept(shares.clone());
    }
    return size / (ingredients.size() + 1);
  }

  /** The least clearance of the trials that did not over-travel, µm. */
  int nearest() {
    return nearest;
  }
}
