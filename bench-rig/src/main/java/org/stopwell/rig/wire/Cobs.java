package org.stopwell.rig.wire;

/**
 * Consistent overhead byte stuffing: bytes without a zero in them, so that a zero can part frames.
 *
 * <p>Cheshire and Baker, IEEE/ACM Transactions on Networking 7(2), 1999, 159-172.
 */
public final class Cobs {
  private static final int FULL_RUN = 0xFF;

  private Cobs() {}

  /**
   * The most bytes that stuffing can make.
   *
   * @param length bytes before
   * @return bytes after, at least 1
   */
  public static int maxEncoded(int length) {
    return length == 0 ? 1 : length + (length + 253) / 254;
  }

  /**
   * Stuffs bytes. No zero is written.
   *
   * @param from bytes to stuff
   * @param length how many of them
   * @param to receives the stuffed bytes from index 0
   * @return how many were written
   */
  public static int encode(byte[] from, int length, byte[] to) {
    int runStart = 0;
    int out = 1;
    int run = 1;
    for (int i = 0; i < length; i++) {
      if (from[i] != 0) {
        to[out++] = from[i];
        run++;
      }
      boolean full = run == FULL_RUN;
      if (from[i] == 0 || (full && i + 1 < length)) {
        to[runStart] = (byte) run;
        runStart = out++;
        run = 1;
      }
    }
    to[runStart] = (byte) run;
    return out;
  }

  /**
   * Undoes the stuffing. It may work in place, because writing never overtakes what it reads.
   *
   * @param from stuffed bytes without their closing zero
   * @param length how many of them
   * @param to receives the bytes from index 0
   * @return how many were written, or -1 when the bytes are not stuffed right
   */
  public static int decode(byte[] from, int length, byte[] to) {
    int in = 0;
    int out = 0;
    while (in < length) {
      int run = from[in++] & 0xFF;
      if (run == 0 || in + run - 1 > length) {
        return -1;
      }
      for (int i = 1; i < run; i++) {
        if (from[in] == 0) {
          return -1;
        }
        to[out++] = from[in++];
      }
      if (run != FULL_RUN && in < length) {
        to[out++] = 0;
      }
    }
    return length == 0 ? -1 : out;
  }
}
