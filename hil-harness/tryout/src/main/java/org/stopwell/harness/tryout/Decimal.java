package org.stopwell.harness.tryout;

import java.math.BigDecimal;

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

  /** Writes a number rounded to decimals. */
  static String rounded(double value, int decimals) {
    double scale = 1;
    for (int i = 0; i < decimals; i++) {
      scale *= 10;
    }
    return text((long) Math.rint(value * scale), decimals);
  }
}
