package org.stopwell.rig.random;

/**
 * The counter-based generator Philox4x32-10: a keyed hash from a counter of 128 bits to 128 random
 * bits.
 *
 * <p>Source: Salmon, Moraes, Dror, Shaw, "Parallel random numbers: as easy as 1, 2, 3", SC 2011.
 */
final class Philox {
  private static final long MULTIPLIER_0 = 0xD2511F53L;
  private static final long MULTIPLIER_1 = 0xCD9E8D57L;
  private static final int WEYL_0 = 0x9E3779B9;
  private static final int WEYL_1 = 0xBB67AE85;
  private static final int ROUNDS = 10;
  private static final long LOW = 0xFFFFFFFFL;

  private Philox() {}

  /**
   * Hashes one counter.
   *
   * @param counterLow words 0 and 1 of the counter, word 0 in the low half
   * @param counterHigh words 2 and 3 of the counter
   * @param key the key, word 0 in the low half
   * @param block receives two numbers of 64 bits: output words 0 and 1, and 2 and 3
   */
  static void hash(long counterLow, long counterHigh, long key, long[] block) {
    int c0 = (int) counterLow;
    int c1 = (int) (counterLow >>> 32);
    int c2 = (int) counterHigh;
    int c3 = (int) (counterHigh >>> 32);
    int k0 = (int) key;
    int k1 = (int) (key >>> 32);
    for (int round = 0; round < ROUNDS; round++) {
      long product0 = MULTIPLIER_0 * (c0 & LOW);
      long product1 = MULTIPLIER_1 * (c2 & LOW);
      c0 = (int) (product1 >>> 32) ^ c1 ^ k0;
      c1 = (int) product1;
      c2 = (int) (product0 >>> 32) ^ c3 ^ k1;
      c3 = (int) product0;
      k0 += WEYL_0;
      k1 += WEYL_1;
    }
    block[0] = (c0 & LOW) | ((long) c1 << 32);
    block[1] = (c2 & LOW) | ((long) c3 << 32);
  }

  /**
   * Hashes a counter and the next one side by side: each round waits for the one before it, and a
   * processor that waits for one hash has time for another.
   *
   * @param counterLow words 0 and 1 of the counter, word 0 in the low half
   * @param counterHigh words 2 and 3 of both counters
   * @param key the key, word 0 in the low half
   * @param blocks receives four numbers of 64 bits: those of the counter, and those of the next
   */
  static void hashPair(long counterLow, long counterHigh, long key, long[] blocks) {
    long counterNext = counterLow + 1;
    int c0 = (int) counterLow;
    int c1 = (int) (counterLow >>> 32);
    int c2 = (int) counterHigh;
    int c3 = (int) (counterHigh >>> 32);
    int d0 = (int) counterNext;
    int d1 = (int) (counterNext >>> 32);
    int d2 = c2;
    int d3 = c3;
    int k0 = (int) key;
    int k1 = (int) (key >>> 32);
    for (int round = 0; round < ROUNDS; round++) {
      long product0 = MULTIPLIER_0 * (c0 & LOW);
      long product1 = MULTIPLIER_1 * (c2 & LOW);
      c0 = (int) (product1 >>> 32) ^ c1 ^ k0;
      c1 = (int) product1;
      c2 = (int) (product0 >>> 32) ^ c3 ^ k1;
      c3 = (int) product0;
      product0 = MULTIPLIER_0 * (d0 & LOW);
      product1 = MULTIPLIER_1 * (d2 & LOW);
      d0 = (int) (product1 >>> 32) ^ d1 ^ k0;
      d1 = (int) product1;
      d2 = (int) (product0 >>> 32) ^ d3 ^ k1;
      d3 = (int) product0;
      k0 += WEYL_0;
      k1 += WEYL_1;
    }
    blocks[0] = (c0 & LOW) | ((long) c1 << 32);
    blocks[1] = (c2 & LOW) | ((long) c3 << 32);
    blocks[2] = (d0 & LOW) | ((long) d1 << 32);
    blocks[3] = (d2 & LOW) | ((long) d3 << 32);
  }
}
