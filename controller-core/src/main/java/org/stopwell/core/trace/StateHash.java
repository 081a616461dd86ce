package org.stopwell.core.trace;

/**
 * Folds values into 64 bits: equal states give equal numbers on any machine.
 *
 * <p>Every value is spread by a multiplication with an odd constant (2^64 over the golden ratio)
 * and one shift; both steps can be undone, so no single change of a value is lost.
 */
public final class StateHash {
  /** The hash of nothing. */
  public static final long START = 0x243f6a8885a308d3L;

  private StateHash() {}

  /**
   * Folds in a whole number.
   *
   * @param hash the hash so far
   * @param value any number
   * @return the hash with the value
   */
  public static long mix(long hash, long value) {
    long h = (hash ^ value) * 0x9e3779b97f4a7c15L;
    return h ^ (h >>> 29);
  }

  /**
   * Folds in a part that was hashed by itself from {@link #START}. Parts do not wait for each
   * other, so a processor works on several at once.
   *
   * @param hash the hash so far
   * @param part the hash of the part
   * @return the hash with the part
   */
  public static long join(long hash, long part) {
    return mix(hash, part);
  }

  /**
   * Folds in a number with a fraction, bit by bit.
   *
   * @param hash the hash so far
   * @param value any number
   * @return the hash with the value
   */
  public static long mix(long hash, double value) {
    return mix(hash, Double.doubleToLongBits(value));
  }

  /**
   * Folds in a number and a flag at once.
   *
   * @param hash the hash so far
   * @param value a number of at most 63 bits, as times and speeds are
   * @param flag a flag
   * @return the hash with both
   */
  public static long mix(long hash, long value, boolean flag) {
    return mix(hash, value << 1 | (flag ? 1 : 0));
  }

  /**
   * Folds in a flag.
   *
   * @param hash the hash so far
   * @param value a flag
   * @return the hash with the value
   */
  public static long mix(long hash, boolean value) {
    return mix(hash, value ? 1L : 0L);
  }
}
