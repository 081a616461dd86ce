package org.stopwell.harness.explore;

import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.math.BigInteger;

/**
 * Sums of whole numbers, exact to 128 bits: 2^63 products of 63 bits do not overflow them. Their
 * order does not matter.
 */
final class WideSums {
  private final long[] high;
  private final long[] low;

  WideSums(int count) {
    high = new long[count];
    low = new long[count];
  }

  int count() {
    return low.length;
  }

  void add(int i, long value) {
    long before = low[i];
    low[i] = before + value;
    high[i] += (value >> 63) + (Long.compareUnsigned(low[i], before) < 0 ? 1 : 0);
  }

  void addAll(WideSums other) {
    for (int i = 0; i < low.length; i++) {
      long before = low[i];
      low[i] = before + other.low[i];
      high[i] += other.high[i] + (Long.compareUnsigned(low[i], before) < 0 ? 1 : 0);
    }
  }

  WideSums copy() {
    WideSums copy = new WideSums(low.length);
    copy.addAll(this);
    return copy;
  }

  BigInteger exact(int i) {
    return BigInteger.valueOf(high[i])
        .shiftLeft(64)
        .add(BigInteger.valueOf(low[i] >>> 1).shiftLeft(1))
        .add(BigInteger.valueOf(low[i] & 1));
  }

  double get(int i) {
    return exact(i).doubleValue();
  }

  void write(DataOutputStream out) throws IOException {
    out.writeInt(low.length);
    for (int i = 0; i < low.length; i++) {
      out.writeLong(high[i]);
      out.writeLong(low[i]);
    }
  }

  static WideSums read(DataInputStream in, int expected) throws IOException {
    if (in.readInt() != expected) {
      throw new IOException("another number of sums");
    }
    WideSums sums = new WideSums(expected);
    for (int i = 0; i < expected; i++) {
      sums.high[i] = in.readLong();
      sums.low[i] = in.readLong();
    }
    return sums;
  }
}
