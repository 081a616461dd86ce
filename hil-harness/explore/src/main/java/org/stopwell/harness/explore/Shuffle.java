package org.stopwell.harness.explore;

import org.stopwell.rig.random.RandomStream;

/**
 * A random order of numbers that is worked out for one place at a time, so that an order of any
 * length needs no memory: a network of four rounds (Luby and Rackoff 1988) on the next power of
 * four, walked until it falls within the length.
 */
final class Shuffle {
  private static final int ROUNDS = 4;

  private Shuffle() {}

  /**
   * The number at a place.
   *
   * @param place from 0 to length − 1
   * @param length how many numbers there are
   * @param seed seed of the order
   * @param order which order of this seed
   * @return a number from 0 to length − 1; another one at every place
   */
  static long at(long place, long length, long seed, int order) {
    int half = 1;
    while (1L << (2 * half) < length) {
      half++;
    }
    long mask = (1L << half) - 1;
    long key = RandomStream.trialSeed(seed, order);
    long value = place;
    do {
      long left = value >>> half;
      long right = value & mask;
      for (int round = 0; round < ROUNDS; round++) {
        long next = left ^ (RandomStream.trialSeed(key + round, right) & mask);
        left = right;
        right = next;
      }
      value = left << half | right;
    } while (value >= length);
    return value;
  }
}
