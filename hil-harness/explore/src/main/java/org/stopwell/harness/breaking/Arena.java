package org.stopwell.harness.breaking;

import java.util.List;

/** One canal with its noise, and at most one kind of fault: a function of the shares. */
interface Arena {
  /** What may change. */
  List<Ingredient> ingredients();

  /**
   * How far the file stays from an over-travel at its deepest, µm; below 0 it over-travels.
   *
   * @param shares of each ingredient
   */
  int clearance(double[] shares);

  /**
   * How many trials were simulated here.
   *
   * @return 0 for a function in place of trials
   */
  default long trials() {
    return 0;
  }

  default double size(double[] shares) {
    return Ingredient.size(ingredients(), shares);
  }

  default boolean isPast(double[] shares) {
    return clearance(shares) < 0;
  }
}
