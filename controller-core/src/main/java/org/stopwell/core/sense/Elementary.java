package org.stopwell.core.sense;

/**
 * Logarithm, angle and exponential by additions, multiplications, divisions and square roots alone,
 * so that they are the same to the bit wherever the core runs. Series after a reduction of the
 * argument; the error is below 1e-11.
 */
final class Elementary {
  private static final double LN_2 = 0.6931471805599453;
  private static final double SQRT_2 = 1.4142135623730951;
  private static final int EXPONENT_BIAS = 1023;
  private static final int MANTISSA_BITS = 52;
  private static final long MANTISSA = (1L << MANTISSA_BITS) - 1;

  private Elementary() {}

  /** Natural logarithm of a normal number above 0: ln m = 2 artanh((m − 1)/(m + 1)). */
  static double log(double x) {
    long bits = Double.doubleToLongBits(x);
    int exponent = (int) (bits >>> MANTISSA_BITS) - EXPONENT_BIAS;
    double m = Double.longBitsToDouble((bits & MANTISSA) | ((long) EXPONENT_BIAS << MANTISSA_BITS));
    if (m > SQRT_2) {
      m *= 0.5;
      exponent++;
    }
    double z = (m - 1) / (m + 1);
    double z2 = z * z;
    double sum = 1.0 / 15;
    for (int n = 13; n >= 1; n -= 2) {
      sum = sum * z2 + 1.0 / n;
    }
    return exponent * LN_2 + 2 * z * sum;
  }

  /** Angle of a point, −π to π: tan φ/2 = t/(1 + √(1 + t²)), and the series of the arc tangent. */
  static double angle(double y, double x) {
    double ay = Math.abs(y);
    double ax = Math.abs(x);
    if (ax == 0 && ay == 0) {
      return 0;
    }
    double t = Math.min(ax, ay) / Math.max(ax, ay);
    double half = t / (1 + Math.sqrt(1 + t * t));
    double quarter = half / (1 + Math.sqrt(1 + half * half));
    double q2 = quarter * quarter;
    double sum = 1.0 / 17;
    for (int n = 15; n >= 1; n -= 2) {
      sum = 1.0 / n - sum * q2;
    }
    double angle = 4 * quarter * sum;
    angle = ay > ax ? Math.PI / 2 - angle : angle;
    angle = x < 0 ? Math.PI - angle : angle;
    return y < 0 ? -angle : angle;
  }

  /** Exponential of a number between −700 and 700. */
  static double exp(double x) {
    int k = (int) Math.floor(x / LN_2 + 0.5);
    double r = x - k * LN_2;
    double sum = 1;
    for (int n = 12; n >= 1; n--) {
      sum = 1 + sum * r / n;
    }
    return sum * Double.longBitsToDouble((long) (k + EXPONENT_BIAS) << MANTISSA_BITS);
  }
}
