package org.stopwell.harness.explore;

import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.math.BigInteger;

/**
 * Sums of whole numbers, exact to 128 bits: 2^63 products of 63 bits do not overflow them. Their
 * order does not matter.
 */
public final class WideSums {
  private final long[] high;
  private final long[] low;

  /**
   * All 0.
   *
   * @param count how many
   */
  public WideSums(int count) {
    high = new long[count];
    low = new long[count];
  }

  int count() {
    return low.length;
  }

  /**
   * Adds to one of them.
   *
   * @param i which
   * @param value what is added
   */
  public void add(int i, long value) {
    long before = low[i];
    low[i] = before + value;
    high[i] += (value >> 63) + (Long.compareUnsigned(low[i], before) < 0 ? 1 : 0);
  }

  /**
   * Adds others to these.
   *
   * @param other as many sums
   */
  public void addAll(WideSums other) {
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

  /**
   * One of them.
   *
   * @param i which
   * @return its exact value
   */
  public BigInteger exact(int i) {
    return BigInteger.valueOf(high[i])
        .shiftLeft(64)
        .add(BigInteger.valueOf(low[i] >>> 1).shiftLeft(1))
        .add(BigInteger.valueOf(low[i] & 1));
  }

  double get(int i) {
    return exact(i).doubleValue();
  }

  /**
   * Writes them.
   *
   * @param out receives them
   * @throws IOException when that fails
   */
  public void write(DataOutputStream out) throws IOException {
    out.writeInt(low.length);
    for (int i = 0; i < low.length; i++) {
      out.writeLong(high[i]);
      out.writeLong(low[i]);
    }
  }

  /**
   * Reads them.
   *
   * @param in gives them
   * @param expected how many there must be
   * @return the sums
   * @throws IOException when there are others
   */
  public static WideSums read(DataInputStream in, int expected) throws IOException {
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
