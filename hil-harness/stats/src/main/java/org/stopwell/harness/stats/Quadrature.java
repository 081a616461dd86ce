package org.stopwell.harness.stats;

import java.util.function.DoubleUnaryOperator;

/** Integrates smooth functions by Simpson's rule. */
final class Quadrature {
  private Quadrature() {}

  /** The integral over an interval in an even number of panels. */
  static double simpson(DoubleUnaryOperator f, double from, double to, int panels) {
    double h = (to - from) / panels;
    double sum = f.applyAsDouble(from) + f.applyAsDouble(to);
    for (int i = 1; i < panels; i++) {
      sum += (i % 2 == 0 ? 2 : 4) * f.applyAsDouble(from + i * h);
    }
    return sum * h / 3;
  }
}
