package org.stopwell.harness.stats;

import java.util.function.DoubleUnaryOperator;

/** Finds where an increasing function reaches a value. Slow, and it never misses. */
final class Bisection {
  private Bisection() {}

  /**
   * The point between two bounds where an increasing function reaches a target, to the last bit or
   * to a relative 1e-15, whichever comes first.
   */
  static double solve(DoubleUnaryOperator increasing, double target, double low, double high) {
    return solve(increasing, target, low, high, 1e-15);
  }

  /** The same to a relative precision of the caller's choice. */
  static double solve(
      DoubleUnaryOperator increasing, double target, double low, double high, double precision) {
    double a = low;
    double b = high;
    for (int i = 0; i < 1100; i++) {
      double middle = a + (b - a) / 2;
      if (middle <= a || middle >= b || b - a <= precision * Math.abs(middle)) {
        return middle;
      }
      if (increasing.applyAsDouble(middle) < target) {
        a = middle;
      } else {
        b = middle;
      }
    }
    return a + (b - a) / 2;
  }
}
