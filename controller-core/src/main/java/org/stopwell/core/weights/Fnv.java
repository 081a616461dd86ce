package org.stopwell.core.weights;

/** FNV-1a, 64 bits (IETF draft-eastlake-fnv), over numbers or characters. */
final class Fnv {
  private static final long OFFSET = 0xcbf29ce484222325L;
  private static final long PRIME = 0x100000001b3L;

  private long hash = OFFSET;

  /** Adds eight bytes, the lowest first. */
  void add(long value) {
    for (int shift = 0; shift < 64; shift += 8) {
      hash = (hash ^ ((value >>> shift) & 255)) * PRIME;
    }
  }

  long hash() {
    return hash;
  }

  /** The hash of characters, each as one number. */
  static long of(CharSequence text, int end) {
    long hash = OFFSET;
    for (int i = 0; i < end; i++) {
      hash = (hash ^ text.charAt(i)) * PRIME;
    }
    return hash;
  }

  /** A hash as 16 hexadecimal digits. */
  static String hex(long bits) {
    StringBuilder text = new StringBuilder(16);
    for (int shift = 60; shift >= 0; shift -= 4) {
      text.append("0123456789abcdef".charAt((int) (bits >>> shift) & 15));
    }
    return text.toString();
  }
}
