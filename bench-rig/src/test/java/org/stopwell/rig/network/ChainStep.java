package org.stopwell.rig.network;

import java.util.function.IntBinaryOperator;

/**
 * A step of a chain from one set of codes to another, while some of its relays have moved and some
 * have not. A code's bit that is 1 is an open relay. Whatever the delays of the relays are, the
 * impedance lies between two extremes: all that open have opened before any closes, and the
 * reverse.
 */
final class ChainStep {
  private final int[] from;
  private final int[] to;

  ChainStep(int[] from, int[] to) {
    this.from = from.clone();
    this.to = to.clone();
  }

  int[] from() {
    return from.clone();
  }

  int[] to() {
    return to.clone();
  }

  /** Codes while the relays that open have opened and those that close have not closed yet. */
  int[] opening() {
    return each((a, b) -> a | b);
  }

  /** Codes while the relays that close have closed and those that open have not opened yet. */
  int[] closing() {
    return each((a, b) -> a & b);
  }

  /** How many relays move. */
  int relays() {
    int count = 0;
    for (int k = 0; k < from.length; k++) {
      count += Integer.bitCount(from[k] ^ to[k]);
    }
    return count;
  }

  /**
   * The greatest magnitude on the way over the greater of both ends, less 1, or the least over the
   * lesser: a share, positive for a rise.
   */
  double excursion(BuiltChain built, int[] between, double hertz) {
    double a = built.impedance(from, hertz).magnitude();
    double b = built.impedance(to, hertz).magnitude();
    double m = built.impedance(between, hertz).magnitude();
    return m > Math.max(a, b) ? m / Math.max(a, b) - 1 : Math.min(0, m / Math.min(a, b) - 1);
  }

  private int[] each(IntBinaryOperator of) {
    int[] codes = new int[from.length];
    for (int k = 0; k < codes.length; k++) {
      codes[k] = of.applyAsInt(from[k], to[k]);
    }
    return codes;
  }
}
