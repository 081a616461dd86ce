package org.stopwell.rig.random;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.util.Arrays;
import org.junit.jupiter.api.Test;

class RandomStreamTest {
  /** Known answers published with Random123 (kat_vectors, philox4x32 10). */
  @Test
  void philox_gives_its_published_answers() {
    assertArrayEquals(words(0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8), philox(0, 0, 0));
    assertArrayEquals(words(0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd), philox(-1, -1, -1));
    assertArrayEquals(
        words(0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1),
        philox(0x85a308d3_243f6a88L, 0x03707344_13198a2eL, 0x299f31d0_a4093822L));
  }

  @Test
  void equal_seeds_and_names_give_equal_numbers() {
    RandomStream a = RandomStream.of(42, "noise");
    RandomStream b = RandomStream.of(42, "noise");
    for (int i = 0; i < 1000; i++) {
      assertEquals(a.nextLong(), b.nextLong());
    }
  }

  @Test
  void another_name_or_seed_gives_other_numbers() {
    long first = RandomStream.of(42, "noise").nextLong();

    assertNotEquals(first, RandomStream.of(42, "hand").nextLong());
    assertNotEquals(first, RandomStream.of(43, "noise").nextLong());
    assertNotEquals(RandomStream.trialSeed(1, 0), RandomStream.trialSeed(1, 1));
    assertNotEquals(RandomStream.trialSeed(1, 0), RandomStream.trialSeed(2, 0));
  }

  /** Mean and variance within five standard errors: a fixed seed, so it holds or it does not. */
  @Test
  void gaussian_numbers_have_mean_0_and_variance_1() {
    RandomStream stream = RandomStream.of(7, "test");
    int n = 200_000;
    double sum = 0;
    double squares = 0;
    double fourths = 0;
    for (int i = 0; i < n; i++) {
      double x = stream.nextGaussian();
      sum += x;
      squares += x * x;
      fourths += x * x * x * x;
    }
    assertEquals(0, sum / n, 5 / Math.sqrt(n));
    assertEquals(1, squares / n, 5 * Math.sqrt(2.0 / n));
    assertEquals(3, fourths / n, 5 * Math.sqrt(96.0 / n));
  }

  @Test
  void uniform_numbers_fill_ten_bins_evenly() {
    RandomStream stream = RandomStream.of(8, "test");
    int[] bins = new int[10];
    int n = 100_000;
    for (int i = 0; i < n; i++) {
      bins[(int) (10 * stream.nextDouble())]++;
    }
    double chiSquare = 0;
    for (int count : bins) {
      chiSquare += (count - n / 10.0) * (count - n / 10.0) / (n / 10.0);
    }
    // 99.9 % point of chi-square with 9 degrees of freedom
    assertEquals(0, Math.max(0, chiSquare - 27.877));
  }

  @Test
  void a_pair_holds_the_hashes_of_two_counters_in_a_row() {
    long[] pair = new long[4];
    RandomStream counters = RandomStream.of(9, "counters");
    for (int i = 0; i < 100; i++) {
      // also where the lower word of the counter runs over
      long low = i % 2 == 0 ? counters.nextLong() : counters.nextLong() | 0xFFFFFFFFL;
      long high = counters.nextLong();
      long key = counters.nextLong();
      Philox.hashPair(low, high, key, pair);
      assertArrayEquals(philox(low, high, key), Arrays.copyOf(pair, 2));
      assertArrayEquals(philox(low + 1, high, key), Arrays.copyOfRange(pair, 2, 4));
    }
  }

  private static long[] philox(long low, long high, long key) {
    long[] block = new long[2];
    Philox.hash(low, high, key, block);
    return block;
  }

  private static long[] words(int w0, int w1, int w2, int w3) {
    return new long[] {
      (w0 & 0xFFFFFFFFL) | ((long) w1 << 32), (w2 & 0xFFFFFFFFL) | ((long) w3 << 32)
    };
  }
}
