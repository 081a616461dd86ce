package org.stopwell.core.number;

/**
 * Elementary functions by additions, multiplications, divisions and square roots alone, so that
 * they are the same to the bit on any machine, in C, and in a browser whose own functions differ.
 *
 * <p>A port of fdlibm 5.3, of the algorithms and constants, and not of any Java source. Each result
 * is that of {@code StrictMath}, which the Java platform defines by fdlibm; errors are below 1 ulp
 * (0.7 for {@link #pow} and {@link #cbrt}). The notice of the original:
 *
 * <pre>
 * Copyright (C) 1993, 2004 by Sun Microsystems, Inc. All rights reserved.
 *
 * Developed at SunSoft, a Sun Microsystems, Inc. business.
 * Permission to use, copy, modify, and distribute this
 * software is freely granted, provided that this notice
 * is preserved.
 * </pre>
 */
public final class Elementary {
  private static final double LN2_HIGH = 0.6931471803691238;
  private static final double LN2_LOW = 1.9082149292705877e-10;
  private static final double INVERSE_LN2 = 1.4426950408889634;
  private static final double HALF_PI_LOW = 6.123233995736766e-17;
  private static final double PI_LOW = 1.224646799147353E-16;

  /** Greatest argument of {@link #exp} with a finite result. */
  private static final double EXP_MOST = 709.782712893384;

  /** Least argument of {@link #exp} with a result above 0. */
  private static final double EXP_LEAST = -745.1332191019411;

  private static final double TWO_TO_54 = 1.8014398509481984e16;
  private static final double TWO_TO_53 = 9007199254740992.0;
  private static final double TWO_TO_MINUS_1000 = 9.332636185032189e-302;

  /** High word of the greatest angle, 2^19·π. */
  private static final int GREATEST_ANGLE = 0x413921fb;

  private Elementary() {}

  private static int high(double x) {
    return (int) (Double.doubleToRawLongBits(x) >>> 32);
  }

  private static double withHigh(double x, int high) {
    return Double.longBitsToDouble(
        (Double.doubleToRawLongBits(x) & 0xffffffffL) | ((long) high << 32));
  }

  private static double withoutLow(double x) {
    return Double.longBitsToDouble(Double.doubleToRawLongBits(x) & 0xffffffff00000000L);
  }

  private static double ofHigh(int high) {
    return Double.longBitsToDouble((long) high << 32);
  }

  /**
   * The nearest whole number; a half goes to the even one. TeaVM has another {@code Math.rint}.
   *
   * @param x any number
   * @return a whole number; 0 without a sign
   */
  public static double rint(double x) {
    // next to 1.5·2^52 numbers are whole, so the sum is rounded there
    return Math.abs(x) < 0x1p51 ? (x + 0x1.8p52) - 0x1.8p52 : x;
  }

  /**
   * Exponential.
   *
   * @param x any number
   * @return e to the power of x
   */
  public static double exp(double x) {
    if (!(x <= EXP_MOST)) {
      return x > EXP_MOST ? Double.POSITIVE_INFINITY : x;
    }
    if (x < EXP_LEAST) {
      return 0;
    }
    int size = high(x) & 0x7fffffff;
    double high = 0;
    double low = 0;
    double r = x;
    int k = 0;
    if (size > 0x3fd62e42) { // above 0.5 ln 2
      if (size < 0x3ff0a2b2) { // below 1.5 ln 2
        k = x < 0 ? -1 : 1;
      } else {
        k = (int) (INVERSE_LN2 * x + (x < 0 ? -0.5 : 0.5));
      }
      high = x - k * LN2_HIGH;
      low = k * LN2_LOW;
      r = high - low;
    } else if (size < 0x3e300000) { // below 2^-28
      return 1 + x;
    }
    double t = r * r;
    double c =
        r
            - t
                * (0.16666666666666602
                    + t
                        * (-0.0027777777777015593
                            + t
                                * (6.613756321437934e-5
                                    + t * (-1.6533902205465252e-6 + t * 4.1381367970572385e-8))));
    if (k == 0) {
      return 1 - ((r * c) / (c - 2) - r);
    }
    double y = 1 - ((low - (r * c) / (2 - c)) - high);
    return k >= -1021
        ? withHigh(y, high(y) + (k << 20))
        : withHigh(y, high(y) + ((k + 1000) << 20)) * TWO_TO_MINUS_1000;
  }

  /**
   * Exponential less 1, exact near 0 too.
   *
   * @param x any number
   * @return e to the power of x, less 1
   */
  public static double expm1(double x) {
    int size = high(x) & 0x7fffffff;
    if (size >= 0x4043687a) { // 56 ln 2
      if (!(x <= EXP_MOST)) {
        return x > EXP_MOST ? Double.POSITIVE_INFINITY : x;
      }
      if (x < 0) {
        return -1;
      }
    }
    double r = x;
    double c = 0;
    int k = 0;
    if (size > 0x3fd62e42) { // above 0.5 ln 2
      if (size < 0x3ff0a2b2) { // below 1.5 ln 2
        k = x < 0 ? -1 : 1;
      } else {
        k = (int) (INVERSE_LN2 * x + (x < 0 ? -0.5 : 0.5));
      }
      double high = x - k * LN2_HIGH;
      double low = k * LN2_LOW;
      r = high - low;
      c = (high - r) - low;
    } else if (size < 0x3c900000) { // below 2^-54
      return x;
    }
    double half = 0.5 * r;
    double z = r * half;
    double r1 =
        1
            + z
                * (-0.03333333333333313
                    + z
                        * (0.0015873015872548146
                            + z
                                * (-7.93650757867488e-5
                                    + z * (4.008217827329362e-6 + z * -2.0109921818362437e-7))));
    double t = 3 - r1 * half;
    double e = z * ((r1 - t) / (6 - r * t));
    if (k == 0) {
      return r - (r * e - z);
    }
    e = (r * (e - c) - c) - z;
    if (k == -1) {
      return 0.5 * (r - e) - 0.5;
    }
    if (k == 1) {
      return r < -0.25 ? -2 * (e - (r + 0.5)) : 1 + 2 * (r - e);
    }
    if (k <= -2 || k > 56) {
      double y = 1 - (e - r);
      return withHigh(y, high(y) + (k << 20)) - 1;
    }
    double y =
        k < 20
            ? ofHigh(0x3ff00000 - (0x200000 >> k)) - (e - r)
            : (r - (e + ofHigh((0x3ff - k) << 20))) + 1;
    return withHigh(y, high(y) + (k << 20));
  }

  /**
   * Natural logarithm.
   *
   * @param x a number; below 0 there is none
   * @return ln x
   */
  public static double log(double x) {
    if (!(x > 0)) {
      return x == 0 ? Double.NEGATIVE_INFINITY : Double.NaN;
    }
    double m = x;
    int k = 0;
    int hx = high(x);
    if (hx < 0x00100000) { // subnormal
      k = -54;
      m = x * TWO_TO_54;
      hx = high(m);
    }
    if (hx >= 0x7ff00000) {
      return x;
    }
    k += (hx >> 20) - 1023;
    hx &= 0x000fffff;
    int i = (hx + 0x95f64) & 0x100000;
    m = withHigh(m, hx | (i ^ 0x3ff00000));
    k += i >> 20;
    double f = m - 1;
    if ((0x000fffff & (2 + hx)) < 3) { // |f| below 2^-20
      double square = f * f * (0.5 - 0.3333333333333333 * f);
      return f == 0
          ? k * LN2_HIGH + k * LN2_LOW
          : k == 0 ? f - square : k * LN2_HIGH - ((square - k * LN2_LOW) - f);
    }
    double s = f / (2 + f);
    double z = s * s;
    double w = z * z;
    double t1 = w * (0.3999999999940942 + w * (0.22222198432149784 + w * 0.15313837699209373));
    double t2 =
        z
            * (0.6666666666666735
                + w * (0.2857142874366239 + w * (0.1818357216161805 + w * 0.14798198605116586)));
    double rest = t2 + t1;
    if (((hx - 0x6147a) | (0x6b851 - hx)) > 0) {
      double half = 0.5 * f * f;
      return k == 0
          ? f - (half - s * (half + rest))
          : k * LN2_HIGH - ((half - (s * (half + rest) + k * LN2_LOW)) - f);
    }
    return k == 0 ? f - s * (f - rest) : k * LN2_HIGH - ((s * (f - rest) - k * LN2_LOW) - f);
  }

  /**
   * Natural logarithm of 1 + x, exact near 0 too.
   *
   * @param x a number; below -1 there is none
   * @return ln(1 + x)
   */
  public static double log1p(double x) {
    if (!(x > -1)) {
      return x == -1 ? Double.NEGATIVE_INFINITY : Double.NaN;
    }
    if (x == Double.POSITIVE_INFINITY) {
      return x;
    }
    int hx = high(x);
    int size = hx & 0x7fffffff;
    double f = 0;
    double c = 0;
    int hu = 1;
    int k = 1;
    if (hx < 0x3fda827a) { // below sqrt(2) - 1
      if (size < 0x3e200000) { // below 2^-29
        return size < 0x3c900000 ? x : x - x * x * 0.5;
      }
      if (hx > 0 || hx <= 0xbfd2bec3) {
        k = 0;
        f = x;
      }
    }
    if (k != 0) {
      double u;
      if (hx < 0x43400000) {
        u = 1 + x;
        hu = high(u);
        k = (hu >> 20) - 1023;
        c = (k > 0 ? 1 - (u - x) : x - (u - 1)) / u;
      } else {
        u = x;
        hu = high(u);
        k = (hu >> 20) - 1023;
      }
      hu &= 0x000fffff;
      if (hu < 0x6a09e) {
        u = withHigh(u, hu | 0x3ff00000);
      } else {
        k++;
        u = withHigh(u, hu | 0x3fe00000);
        hu = (0x00100000 - hu) >> 2;
      }
      f = u - 1;
    }
    double half = 0.5 * f * f;
    if (hu == 0) { // |f| below 2^-20
      if (f == 0) {
        return k == 0 ? 0 : k * LN2_HIGH + (c + k * LN2_LOW);
      }
      double square = half * (1 - 0.6666666666666666 * f);
      return k == 0 ? f - square : k * LN2_HIGH - ((square - (k * LN2_LOW + c)) - f);
    }
    double s = f / (2 + f);
    double z = s * s;
    double rest =
        z
            * (0.6666666666666735
                + z
                    * (0.3999999999940942
                        + z
                            * (0.2857142874366239
                                + z
                                    * (0.22222198432149784
                                        + z
                                            * (0.1818357216161805
                                                + z
                                                    * (0.15313837699209373
                                                        + z * 0.14798198605116586))))));
    return k == 0
        ? f - (half - s * (half + rest))
        : k * LN2_HIGH - ((half - (s * (half + rest) + (k * LN2_LOW + c))) - f);
  }

  /**
   * A power of a number that is not negative.
   *
   * @param x the base, from 0 up; a negative one has no power here
   * @param y the exponent, at most 2^31 either way
   * @return x to the power of y
   */
  public static double pow(double x, double y) {
    if (y == 0) {
      return 1;
    }
    if (!(x > 0 && x <= Double.MAX_VALUE && Math.abs(y) <= 0x1p31)) {
      return x == 0 && y > 0 && y <= 0x1p31 ? 0 : Double.NaN;
    }
    if (y == 1) {
      return x;
    }
    if (y == -1) {
      return 1 / x;
    }
    if (y == 2) {
      return x * x;
    }
    if (y == 0.5) {
      return Math.sqrt(x);
    }
    if (x == 1) {
      return 1;
    }
    double ax = x;
    int n = 0;
    int ix = high(x);
    if (ix < 0x00100000) { // subnormal
      ax *= TWO_TO_53;
      n = -53;
      ix = high(ax);
    }
    n += (ix >> 20) - 0x3ff;
    int j = ix & 0x000fffff;
    ix = j | 0x3ff00000;
    boolean upper = false;
    if (j > 0x3988e && j < 0xbb67a) { // from sqrt(3/2) to sqrt(3)
      upper = true;
    } else if (j >= 0xbb67a) {
      n++;
      ix -= 0x00100000;
    }
    ax = withHigh(ax, ix);
    // s = (ax - b)/(ax + b) in two parts
    double b = upper ? 1.5 : 1;
    double u = ax - b;
    double v = 1 / (ax + b);
    double s = u * v;
    double sHigh = withoutLow(s);
    double tHigh = ofHigh(((ix >> 1) | 0x20000000) + 0x00080000 + (upper ? 1 << 18 : 0));
    double tLow = ax - (tHigh - b);
    double sLow = v * ((u - sHigh * tHigh) - sHigh * tLow);
    double s2 = s * s;
    double r =
        s2
            * s2
            * (0.5999999999999946
                + s2
                    * (0.4285714285785502
                        + s2
                            * (0.33333332981837743
                                + s2
                                    * (0.272728123808534
                                        + s2 * (0.23066074577556175 + s2 * 0.20697501780033842)))));
    r += sLow * (sHigh + s);
    s2 = sHigh * sHigh;
    tHigh = withoutLow(3 + s2 + r);
    tLow = r - ((tHigh - 3) - s2);
    u = sHigh * tHigh;
    v = sLow * tHigh + tLow * s;
    // log2(ax) = 2/(3 ln 2)·(u + v) in two parts
    double pHigh = withoutLow(u + v);
    double pLow = v - (pHigh - u);
    double zHigh = 0.9617967009544373 * pHigh;
    double zLow =
        -7.028461650952758e-9 * pHigh
            + pLow * 0.9617966939259756
            + (upper ? 1.350039202129749e-8 : 0);
    double offset = upper ? 0.5849624872207642 : 0;
    double t1 = withoutLow(((zHigh + zLow) + offset) + n);
    double t2 = zLow - (((t1 - n) - offset) - zHigh);
    // y·log2(x) in two parts
    double y1 = withoutLow(y);
    pLow = (y - y1) * t1 + y * t2;
    pHigh = y1 * t1;
    double z = pLow + pHigh;
    if (z >= 1024 && (z > 1024 || pLow + 8.008566259537294e-17 > z - pHigh)) {
      return Double.POSITIVE_INFINITY;
    }
    if (z <= -1075 && (z < -1075 || pLow <= z - pHigh)) {
      return 0;
    }
    return twoTo(z, pHigh, pLow);
  }

  /** Two to the power of z = high + low, which is neither too great nor too small. */
  private static double twoTo(double z, double high, double low) {
    int j = high(z);
    int i = j & 0x7fffffff;
    int k = (i >> 20) - 0x3ff;
    int n = 0;
    double pHigh = high;
    if (i > 0x3fe00000) { // |z| above 0.5: n is z rounded
      n = j + (0x00100000 >> (k + 1));
      k = ((n & 0x7fffffff) >> 20) - 0x3ff;
      double t = ofHigh(n & ~(0x000fffff >> k));
      n = ((n & 0x000fffff) | 0x00100000) >> (20 - k);
      n = j < 0 ? -n : n;
      pHigh -= t;
    }
    double t = withoutLow(low + pHigh);
    double u = t * 0.6931471824645996;
    double v = (low - (t - pHigh)) * 0.6931471805599453 + t * -1.904654299957768e-9;
    double x = u + v;
    double w = v - (x - u);
    t = x * x;
    double c =
        x
            - t
                * (0.16666666666666602
                    + t
                        * (-0.0027777777777015593
                            + t
                                * (6.613756321437934e-5
                                    + t * (-1.6533902205465252e-6 + t * 4.1381367970572385e-8))));
    double r = (x * c) / (c - 2) - (w + x * w);
    double y = 1 - (r - x);
    int exponent = high(y) + (n << 20);
    return exponent >> 20 <= 0
        ? withHigh(y, high(y) + ((n + 1000) << 20)) * TWO_TO_MINUS_1000
        : withHigh(y, exponent);
  }

  /**
   * Cube root.
   *
   * @param x any number
   * @return the number whose cube is x
   */
  public static double cbrt(double x) {
    int hx = high(x) & 0x7fffffff;
    if (hx >= 0x7ff00000 || x == 0) {
      return x;
    }
    double ax = Math.abs(x);
    double t =
        hx < 0x00100000 ? ofHigh(high(TWO_TO_54 * ax) / 3 + 696219795) : ofHigh(hx / 3 + 715094163);
    double r = t * t / ax;
    double s = 0.5428571428571428 + r * t;
    t *=
        0.35714285714285715
            + 1.6071428571428572 / (s + 1.4142857142857144 + -0.7053061224489796 / s);
    t = ofHigh(high(t) + 1); // 20 bits, above the root
    s = t * t;
    r = ax / s;
    t += t * ((r - t) / (t + t + r));
    return x < 0 ? -t : t;
  }

  /**
   * Length of a vector.
   *
   * @param x one side
   * @param y the other side
   * @return the root of the sum of squares
   */
  public static double hypot(double x, double y) {
    double a = Math.max(Math.abs(x), Math.abs(y));
    double b = Math.min(Math.abs(x), Math.abs(y));
    if (!(a <= Double.MAX_VALUE)) {
      boolean infinite =
          Math.abs(x) == Double.POSITIVE_INFINITY || Math.abs(y) == Double.POSITIVE_INFINITY;
      return infinite ? Double.POSITIVE_INFINITY : Double.NaN;
    }
    int ha = high(a);
    int hb = high(b);
    if (ha - hb > 0x3c00000) { // b is below a·2^-60
      return a + b;
    }
    double scale = 1;
    if (ha > 0x5f300000) { // above 2^500
      scale = 0x1p600;
    } else if (hb < 0x20b00000) { // below 2^-500
      scale = hb <= 0x000fffff ? 0x1p-1022 : 0x1p-600;
    }
    if (b == 0) {
      return a;
    }
    a /= scale;
    b /= scale;
    double w = a - b;
    if (w > b) {
      double t1 = withoutLow(a);
      double t2 = a - t1;
      w = Math.sqrt(t1 * t1 - (b * -b - t2 * (a + t1)));
    } else {
      double y1 = withoutLow(b);
      double y2 = b - y1;
      double t1 = ofHigh(high(a) + 0x00100000);
      double t2 = a + a - t1;
      w = Math.sqrt(t1 * y1 - (w * -w - (t1 * y2 + t2 * b)));
    }
    return w * scale;
  }

  /**
   * Sine.
   *
   * @param x angle, rad, at most 1.6 million either way; a greater one gives no number
   * @return its sine
   */
  public static double sin(double x) {
    return sine(x, 0);
  }

  /**
   * Cosine.
   *
   * @param x angle, rad, at most 1.6 million either way; a greater one gives no number
   * @return its cosine
   */
  public static double cos(double x) {
    return sine(x, 1);
  }

  /** The sine of an angle and so many right angles. */
  private static double sine(double x, int quarters) {
    int size = high(x) & 0x7fffffff;
    if (size <= 0x3fe921fb) { // up to π/4
      return quarters == 0 ? sineOf(x, 0, false) : cosineOf(x, 0);
    }
    if (size > GREATEST_ANGLE) {
      return Double.NaN;
    }
    // x less n right angles, in two parts; π/2 is given 33 bits at a time
    double ax = Math.abs(x);
    int n = (int) (ax * 0.6366197723675814 + 0.5);
    double r = ax - n * 1.5707963267341256;
    double w = n * 6.077100506506192e-11;
    double y0 = r - w;
    int exponent = size >> 20;
    if (exponent - (high(y0) >> 20 & 0x7ff) > 16) {
      double t = r;
      w = n * 6.077100506303966e-11;
      r = t - w;
      w = n * 2.0222662487959506e-21 - ((t - r) - w);
      y0 = r - w;
      if (exponent - (high(y0) >> 20 & 0x7ff) > 49) {
        t = r;
        w = n * 2.0222662487111665e-21;
        r = t - w;
        w = n * 8.4784276603689e-32 - ((t - r) - w);
        y0 = r - w;
      }
    }
    double y1 = (r - y0) - w;
    if (x < 0) {
      y0 = -y0;
      y1 = -y1;
      n = -n;
    }
    return switch ((n + quarters) & 3) {
      case 0 -> sineOf(y0, y1, true);
      case 1 -> cosineOf(y0, y1);
      case 2 -> -sineOf(y0, y1, true);
      default -> -cosineOf(y0, y1);
    };
  }

  /** Sine of x + y, |x| up to π/4. */
  private static double sineOf(double x, double y, boolean tail) {
    if ((high(x) & 0x7fffffff) < 0x3e400000) { // below 2^-27
      return x;
    }
    double z = x * x;
    double v = z * x;
    double r =
        0.00833333333332249
            + z
                * (-0.0001984126982985795
                    + z
                        * (2.7557313707070068e-6
                            + z * (-2.5050760253406863e-8 + z * 1.58969099521155e-10)));
    return tail
        ? x - ((z * (0.5 * y - v * r) - y) - v * -0.16666666666666632)
        : x + v * (-0.16666666666666632 + z * r);
  }

  /** Cosine of x + y, |x| up to π/4. */
  private static double cosineOf(double x, double y) {
    int size = high(x) & 0x7fffffff;
    if (size < 0x3e400000) { // below 2^-27
      return 1;
    }
    double z = x * x;
    double r =
        z
            * (0.0416666666666666
                + z
                    * (-0.001388888888887411
                        + z
                            * (2.480158728947673e-5
                                + z
                                    * (-2.7557314351390663e-7
                                        + z
                                            * (2.087572321298175e-9
                                                + z * -1.1359647557788195e-11)))));
    if (size < 0x3fd33333) { // below 0.3
      return 1 - (0.5 * z - (z * r - x * y));
    }
    double quarter = size > 0x3fe90000 ? 0.28125 : ofHigh(size - 0x00200000);
    double half = 0.5 * z - quarter;
    return (1 - quarter) - (half - (z * r - x * y));
  }

  /**
   * Arc tangent.
   *
   * @param x any number
   * @return angle, −π/2 to π/2
   */
  public static double atan(double x) {
    int size = high(x) & 0x7fffffff;
    if (size >= 0x44100000) { // from 2^66
      return Double.isNaN(x) ? x : x > 0 ? Math.PI / 2 : -Math.PI / 2;
    }
    if (size < 0x3fdc0000) { // below 7/16
      return size < 0x3e200000 ? x : x - x * arc(x);
    }
    double a = Math.abs(x);
    double high;
    double low;
    if (size < 0x3fe60000) { // below 11/16
      a = (2 * a - 1) / (2 + a);
      high = 0.4636476090008061;
      low = 2.2698777452961687e-17;
    } else if (size < 0x3ff30000) { // below 19/16
      a = (a - 1) / (a + 1);
      high = 0.7853981633974483;
      low = 3.061616997868383e-17;
    } else if (size < 0x40038000) { // below 39/16
      a = (a - 1.5) / (1 + 1.5 * a);
      high = 0.982793723247329;
      low = 1.3903311031230998e-17;
    } else {
      a = -1 / a;
      high = 1.5707963267948966;
      low = HALF_PI_LOW;
    }
    double angle = high - ((a * arc(a) - low) - a);
    return x < 0 ? -angle : angle;
  }

  /** 1 − atan(x)/x for a small x. */
  private static double arc(double x) {
    double z = x * x;
    double w = z * z;
    double odd =
        z
            * (0.3333333333333293
                + w
                    * (0.14285714272503466
                        + w
                            * (0.09090887133436507
                                + w
                                    * (0.06661073137387531
                                        + w * (0.049768779946159324 + w * 0.016285820115365782)))));
    double even =
        w
            * (-0.19999999999876483
                + w
                    * (-0.11111110405462356
                        + w
                            * (-0.0769187620504483
                                + w * (-0.058335701337905735 + w * -0.036531572744216916))));
    return odd + even;
  }

  /**
   * Angle of a point.
   *
   * @param y its second coordinate, finite
   * @param x its first coordinate, finite
   * @return angle from the first axis, −π to π; 0 or π on that axis
   */
  public static double atan2(double y, double x) {
    if (!(Math.abs(x) <= Double.MAX_VALUE && Math.abs(y) <= Double.MAX_VALUE)) {
      return Double.NaN;
    }
    boolean back = Double.doubleToRawLongBits(x) < 0;
    boolean below = Double.doubleToRawLongBits(y) < 0;
    if (y == 0) {
      return !back ? y : below ? -Math.PI : Math.PI;
    }
    if (x == 0) {
      return below ? -Math.PI / 2 : Math.PI / 2;
    }
    int apart = ((high(y) & 0x7fffffff) - (high(x) & 0x7fffffff)) >> 20;
    double z;
    if (apart > 60) {
      z = Math.PI / 2 + 0.5 * PI_LOW;
    } else if (back && apart < -60) {
      z = 0;
    } else {
      z = atan(Math.abs(y / x));
    }
    if (!back) {
      return below ? -z : z;
    }
    return below ? (z - PI_LOW) - Math.PI : Math.PI - (z - PI_LOW);
  }

  /**
   * Arc cosine.
   *
   * @param x a cosine, −1 to 1
   * @return angle, 0 to π
   */
  public static double acos(double x) {
    if (!(x > -1 && x < 1)) {
      return x == 1 ? 0 : x == -1 ? Math.PI : Double.NaN;
    }
    int size = high(x) & 0x7fffffff;
    if (size < 0x3fe00000) { // below 0.5
      return size <= 0x3c600000
          ? Math.PI / 2 + HALF_PI_LOW
          : Math.PI / 2 - (x - (HALF_PI_LOW - x * rational(x * x)));
    }
    if (x < 0) {
      double z = (1 + x) * 0.5;
      double s = Math.sqrt(z);
      double w = rational(z) * s - HALF_PI_LOW;
      return Math.PI - 2 * (s + w);
    }
    double z = (1 - x) * 0.5;
    double s = Math.sqrt(z);
    double df = withoutLow(s);
    double c = (z - df * df) / (s + df);
    return 2 * (df + (rational(z) * s + c));
  }

  private static double rational(double z) {
    double p =
        z
            * (0.16666666666666666
                + z
                    * (-0.3255658186224009
                        + z
                            * (0.20121253213486293
                                + z
                                    * (-0.04005553450067941
                                        + z
                                            * (0.0007915349942898145
                                                + z * 3.479331075960212e-5)))));
    double q =
        1
            + z
                * (-2.403394911734414
                    + z
                        * (2.0209457602335057
                            + z * (-0.6882839716054533 + z * 0.07703815055590194)));
    return p / q;
  }
}
