package org.stopwell.core.sample;

/** Every operation that a step may use, on one pair of numbers. */
public final class Arithmetic {
  private static final double[] PLACES = {0.5, -0.0, 1.5, 2.5};

  private Arithmetic() {}

  /** Folds the results of all operations into one number. */
  public static long of(long a, long b) {
    long h = whole((int) a, (int) b, a, b);
    double x = Double.longBitsToDouble(a);
    double y = Double.longBitsToDouble(b);
    h = mix(h, real(x, y));
    return mix(h, real((double) a, (double) (int) b));
  }

  private static long whole(int i, int j, long a, long b) {
    int sum = i + j;
    int difference = i - j;
    int product = i * j;
    int shifted = i << j;
    long h = mix(mix(mix(mix(sum, difference), product), -i), shifted);
    h = mix(h, i >> j);
    h = mix(h, i >>> j);
    h = mix(h, (byte) i);
    h = mix(h, (short) i);
    h = mix(h, (char) i);
    h = mix(h, Math.abs(i));
    h = mix(h, Math.min(i, j) ^ Math.max(i, j));
    if (j != 0) {
      h = mix(h, i / j);
      h = mix(h, i % j);
    }
    h = mix(h, a + b);
    h = mix(h, a - b);
    h = mix(h, a * b);
    h = mix(h, -a);
    h = mix(h, a << j);
    h = mix(h, a >> j);
    h = mix(h, a >>> j);
    h = mix(h, (a & b) ^ (a | b));
    h = mix(h, Math.abs(a));
    h = mix(h, Math.min(a, b) ^ Math.max(a, b));
    h = mix(h, Long.rotateLeft(a, j));
    h = mix(h, a < b ? 1 : a == b ? 2 : 3);
    if (b != 0) {
      h = mix(h, a / b);
      h = mix(h, a % b);
      h = mix(h, Math.floorDiv(a, b));
    }
    switch (i & 7) {
      case 0 -> h = mix(h, 11);
      case 3 -> h = mix(h, 13);
      default -> h = mix(h, 17);
    }
    return h;
  }

  private static long real(double x, double y) {
    long h = bits(x + y);
    h = mix(h, bits(x - y));
    h = mix(h, bits(x * y));
    h = mix(h, bits(x / y));
    h = mix(h, bits(-x));
    h = mix(h, bits(Math.min(x, y)));
    h = mix(h, bits(Math.max(x, y)));
    h = mix(h, bits(Math.min(x * 0.0, PLACES[1])));
    h = mix(h, bits(Math.abs(x)));
    h = mix(h, bits(Math.sqrt(x)));
    h = mix(h, bits(Math.floor(x)));
    h = mix(h, bits(Math.ceil(x)));
    h = mix(h, bits(Math.floor(x * 1e-9)));
    h = mix(h, (int) x);
    h = mix(h, (long) x);
    h = mix(h, bits((float) x));
    h = mix(h, (int) (float) x);
    h = mix(h, bits((float) x * (float) y));
    h = mix(h, x < y ? 1 : 0);
    h = mix(h, x <= y ? 1 : 0);
    h = mix(h, x > y ? 1 : 0);
    h = mix(h, x >= y ? 1 : 0);
    h = mix(h, x == y ? 1 : 0);
    return mix(h, Double.isNaN(x) ? 1 : 0);
  }

  private static long bits(double value) {
    return Double.doubleToLongBits(value);
  }

  private static long mix(long hash, long value) {
    long h = (hash ^ value) * 0x9e3779b97f4a7c15L;
    return h ^ (h >>> 29);
  }
}
