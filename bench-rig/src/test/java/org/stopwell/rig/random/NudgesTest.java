package org.stopwell.rig.random;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;

class NudgesTest {
  @Test
  void a_shift_is_added_to_its_words_and_to_no_other() {
    Nudges nudges =
        Nudges.of(
            List.of(
                new Nudges.Shift("noise", 2, 5, 7),
                new Nudges.Shift("noise", 4, 6, 100),
                new Nudges.Shift("hand", 0, 9, 1)));
    RandomStream plain = RandomStream.of(42, "noise");
    RandomStream nudged = RandomStream.of(42, "noise", nudges);
    long[] added = {0, 0, 7, 7, 107, 100, 0, 0};
    for (long by : added) {
      assertEquals(plain.nextLong() + by, nudged.nextLong());
    }
  }

  @Test
  void shifts_of_the_same_words_add_up_and_opposite_ones_cancel() {
    Nudges there = Nudges.NONE.with(new Nudges.Shift("noise", 0, 3, 5));
    Nudges back = there.with(new Nudges.Shift("noise", 0, 3, -5));

    assertEquals(List.of(new Nudges.Shift("noise", 0, 3, 0)), back.shifts());
    assertEquals(
        RandomStream.of(1, "noise").nextLong(), RandomStream.of(1, "noise", back).nextLong());
  }

  /** Ten bins of 20,000 shifted numbers: chi-square with 9 degrees of freedom, 99.9 % point. */
  @Test
  void shifted_numbers_stay_uniform() {
    Nudges nudges = Nudges.of(List.of(new Nudges.Shift("test", 0, 20_000, 0x3333333333333333L)));
    RandomStream stream = RandomStream.of(9, "test", nudges);
    int[] bins = new int[10];
    for (int i = 0; i < 20_000; i++) {
      bins[(int) (10 * stream.nextDouble())]++;
    }
    double chi = 0;
    for (int count : bins) {
      chi += (count - 2000.0) * (count - 2000.0) / 2000;
    }
    assertTrue(chi < 27.88, "chi-square " + chi);
  }

  @Test
  void a_shift_of_one_stream_of_the_population_leaves_the_rest_of_the_canal() throws Exception {
    Population population = new Population(3);
    Scene before = population.member(7, Fill.HALF_WET, Map.of());
    Nudges nudges = Nudges.NONE.with(new Nudges.Shift("population hand", 0, 1, 1L << 62));
    Scene after = population.member(7, Fill.HALF_WET, Map.of(), nudges);

    assertNotEquals(
        before.section("hand").get(HandSection.FEED), after.section("hand").get(HandSection.FEED));
    assertEquals(
        before.section("canal").get(CanalSection.LENGTH),
        after.section("canal").get(CanalSection.LENGTH));
  }

  @Test
  void a_range_without_words_is_refused() {
    assertThrows(IllegalArgumentException.class, () -> new Nudges.Shift("noise", 3, 3, 1));
  }
}
