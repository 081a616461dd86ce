package org.stopwell.core.sample;

import org.jspecify.annotations.Nullable;

/** What a step must not do. */
public final class Forbidden {
  private static int count;

  private Forbidden() {}

  /** Makes an array. */
  public static int allocates(int n) {
    return new int[n].length;
  }

  /** Makes an object. */
  public static @Nullable Object makes() {
    return new Object();
  }

  /** Calls itself by way of another. */
  public static int recurses(int n) {
    return n == 0 ? 0 : again(n - 1);
  }

  private static int again(int n) {
    return recurses(n);
  }

  /** Catches. */
  public static int catches(int a, int b) {
    try {
      return a / b;
    } catch (ArithmeticException e) {
      return 0;
    }
  }

  /** Keeps something outside of the controller. */
  public static int counts() {
    return ++count;
  }

  /** Reads a clock. */
  public static long asks() {
    return System.nanoTime();
  }

  /** A result that depends on the library of the machine. */
  public static double computes(double x) {
    return Math.sin(x);
  }
}
