package org.stopwell.harness.trace;

import java.math.BigDecimal;
import java.math.RoundingMode;

/** A number as text, as a whole number of smaller units: exact, and half to even beyond them. */
final class CsvNumber {
  /** Decimal places of a number at most; assumed: beyond what any instrument prints. */
  private static final int MOST_DECIMALS = 100;

  /** Digits that surely fit 64 bits. */
  private static final int FITTING = 18;

  private CsvNumber() {}

  /** Zero for no text. */
  static int scaled(String text, int decimals) {
    return text.isEmpty() ? 0 : Math.toIntExact(scaledLong(text, decimals));
  }

  static long scaledLong(String text, int decimals) {
    long plain = plain(text, decimals);
    if (plain != Long.MIN_VALUE) {
      return plain;
    }
    BigDecimal number = new BigDecimal(text);
    // An exponent of nine digits would be written out.
    if (!((long) number.precision() - number.scale() <= 19 && number.scale() <= MOST_DECIMALS)) {
      throw new ArithmeticException("out of range");
    }
    return number.movePointRight(decimals).setScale(0, RoundingMode.HALF_EVEN).longValueExact();
  }

  /**
   * Digits with at most so many behind the point, as nearly every cell has: the way without {@link
   * BigDecimal}. {@link Long#MIN_VALUE} for any other text.
   */
  private static long plain(String text, int decimals) {
    int from = !text.isEmpty() && text.charAt(0) == '-' ? 1 : 0;
    int digits = 0;
    int behind = -1;
    long value = 0;
    for (int i = from; i < text.length(); i++) {
      char c = text.charAt(i);
      if (c == '.' && behind < 0) {
        behind = 0;
      } else if (c >= '0' && c <= '9') {
        value = 10 * value + (c - '0');
        digits++;
        behind += behind < 0 ? 0 : 1;
      } else {
        return Long.MIN_VALUE;
      }
      if (digits > FITTING) {
        return Long.MIN_VALUE;
      }
    }
    int missing = decimals - Math.max(0, behind);
    if (digits == 0 || missing < 0 || digits + missing > FITTING) {
      return Long.MIN_VALUE;
    }
    for (int i = 0; i < missing; i++) {
      value *= 10;
    }
    return from == 1 ? -value : value;
  }
}
