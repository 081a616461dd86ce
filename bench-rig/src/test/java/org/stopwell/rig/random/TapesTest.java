package org.stopwell.rig.random;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;

class TapesTest {
  /** A tape whose every number is the same. */
  private record Same(double gaussian, double uniform) implements Tapes.Tape {
    @Override
    public double nextGaussian() {
      return gaussian;
    }

    @Override
    public double nextDouble() {
      return uniform;
    }
  }

  private static Tapes tape(String stream, double uniform) {
    return name -> name.equals(stream) ? Optional.of(new Same(1.5, uniform)) : Optional.empty();
  }

  @Test
  void a_stream_with_a_tape_gives_what_is_on_the_tape() {
    RandomStream stream = RandomStream.of(1, "hand", tape("hand", 0.75));

    assertEquals(0.75, stream.nextDouble());
    assertEquals(1.5, stream.nextGaussian());
    assertEquals(3.5, stream.nextBetween(2, 4));
    assertEquals(3L << 62, stream.nextLong());
  }

  @Test
  void a_stream_without_a_tape_gives_what_its_seed_says() {
    assertEquals(
        RandomStream.of(1, "noise").nextLong(),
        RandomStream.of(1, "noise", tape("hand", 0.5)).nextLong());
  }

  @Test
  void a_tape_for_the_hand_of_the_population_leaves_the_canal() throws Exception {
    Population population = new Population(3);
    Scene seeded = population.member(7, Fill.HALF_WET, Map.of());
    Scene taped = population.member(7, Fill.HALF_WET, Map.of(), tape("population hand", 0.9));

    assertNotEquals(
        seeded.section("hand").get(HandSection.FEED), taped.section("hand").get(HandSection.FEED));
    assertEquals(
        seeded.section("canal").get(CanalSection.LENGTH),
        taped.section("canal").get(CanalSection.LENGTH));
  }
}
