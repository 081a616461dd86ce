package org.stopwell.harness.tryout;

import java.math.BigDecimal;
import org.stopwell.core.number.Elementary;

/** Whole numbers as decimals of a larger unit, and back. */
final class Decimal {
  private Decimal() {}

  /** Reads a decimal as a whole number of 10^-decimals. */
  static long of(String text, int decimals) {
    return new BigDecimal(text).movePointRight(decimals).longValueExact();
  }

  /** Writes a whole number of 10^-decimals with all its decimals. */
  static String text(long value, int decimals) {
    return BigDecimal.valueOf(value, decimals).toPlainString();
  }

  /** Writes a whole number of 10^-decimals as JavaScript would: without zeros at the end. */
  static String shortest(long value, int decimals) {
    BigDecimal number = BigDecimal.valueOf(value, decimals).stripTrailingZeros();
    return number.signum() == 0 ? "0" : number.toPlainString();
  }

  /** Writes a number rounded to decimals. */
  static String rounded(double value, int decimals) {
    return text(nearest(value, decimals), decimals);
  }

  /** The nearest whole number of 10^-decimals. */
  static long nearest(double value, int decimals) {
    double scale = 1;
    for (int i = 0; i < decimals; i++) {
      scale *= 10;
    }
    return (long) Elementary.rint(value * scale);
  }
}
