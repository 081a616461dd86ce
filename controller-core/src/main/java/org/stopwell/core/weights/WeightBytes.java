package org.stopwell.core.weights;

import java.util.Arrays;

/** Bytes, lowest first, and their base 64 (RFC 4648). */
final class WeightBytes {
  /** Digits of base 64 on one line. */
  static final int LINE = 76;

  /** The digits of base 64 by value. */
  static final String DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

  private byte[] all = new byte[1 << 16];
  private int count;

  /** How many bytes were put, or taken since the last {@link #rewind}. */
  int count() {
    return count;
  }

  /** The next byte taken is the first. */
  void rewind() {
    count = 0;
  }

  void put(int value, int width) {
    for (int b = 0; b < width; b++) {
      put((byte) (value >> (8 * b)));
    }
  }

  void put(byte value) {
    if (count == all.length) {
      all = Arrays.copyOf(all, 2 * count);
    }
    all[count++] = value;
  }

  void appendTo(StringBuilder out) {
    int column = 0;
    for (int i = 0; i < count; i += 3) {
      int three = at(i) << 16 | at(i + 1) << 8 | at(i + 2);
      out.append(DIGITS.charAt(three >> 18)).append(DIGITS.charAt(three >> 12 & 63));
      out.append(i + 1 < count ? DIGITS.charAt(three >> 6 & 63) : '=');
      out.append(i + 2 < count ? DIGITS.charAt(three & 63) : '=');
      column += 4;
      if (column == LINE || i + 3 >= count) {
        out.append('\n');
        column = 0;
      }
    }
  }

  private int at(int index) {
    return index < count ? all[index] & 255 : 0;
  }

  /** The next number; the text was found long enough before. */
  int take(int width) {
    int value = 0;
    for (int b = 0; b < width; b++) {
      value |= (all[count++] & 255) << (8 * b);
    }
    return width == 1 ? (byte) value : width == 2 ? (short) value : value;
  }
}
