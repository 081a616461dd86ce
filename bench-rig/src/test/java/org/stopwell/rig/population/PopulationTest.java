package org.stopwell.rig.population;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population.Fill;

class PopulationTest {
  private final Population population = new Population(1);

  private Scene member(long index, Fill fill) throws Exception {
    return population.member(index, fill, Map.of());
  }

  @Test
  void a_member_depends_on_seed_and_index_alone() throws Exception {
    long length = member(5, Fill.HALF_WET).section("canal").get(CanalSection.LENGTH);

    assertEquals(length, member(5, Fill.BRIMFUL).section("canal").get(CanalSection.LENGTH));
    assertNotEquals(length, member(6, Fill.HALF_WET).section("canal").get(CanalSection.LENGTH));
    assertEquals(
        length,
        new Population(1)
            .member(5, Fill.HALF_WET, Map.of())
            .section("canal")
            .get(CanalSection.LENGTH));
  }

  @Test
  void a_canal_of_another_length_is_as_full_as_before() throws Exception {
    Map<String, Map<String, String>> shorter = Map.of("canal", Map.of("length_mm", "10"));
    Scene brimful = population.member(5, Fill.BRIMFUL, shorter);
    assertEquals(10_000, brimful.section("fluid").getInt(FluidSection.LEVEL));
    Map<String, Map<String, String>> told =
        Map.of("canal", Map.of("length_mm", "10"), "fluid", Map.of("level_mm", "3"));
    Scene asTold = population.member(5, Fill.BRIMFUL, told);
    assertEquals(3_000, asTold.section("fluid").getInt(FluidSection.LEVEL));
  }

  @Test
  void two_thousand_members_can_all_be_made_and_keep_to_their_source() throws Exception {
    int n = 2000;
    double sum = 0;
    double squares = 0;
    for (int i = 0; i < n; i++) {
      double length = member(i, Fill.HALF_WET).section("canal").get(CanalSection.LENGTH) * 1e-3;
      sum += length;
      squares += length * length;
    }
    double mean = sum / n;
    // limits at 8 and 18 mm cut little off
    assertEquals(12.24, mean, 0.15);
    assertEquals(1.81, Math.sqrt(squares / n - mean * mean), 0.15);
  }

  /**
   * Schäfer et al., J Endod 2002;28:211: 84 % curved; 13 % from 27 to 35°, 9 % beyond, up to 75°.
   */
  @Test
  void canals_are_curved_as_published() throws Exception {
    int n = 2000;
    int curved = 0;
    int strong = 0;
    int severe = 0;
    for (int i = 0; i < n; i++) {
      ParameterValues canal = member(i, Fill.HALF_WET).section("canal");
      double degrees = canal.get(CanalSection.CURVE) * 0.1;
      double radius = canal.get(CanalSection.CURVE_RADIUS) * 1e-3;
      curved += degrees > 0 ? 1 : 0;
      strong += degrees > 27 && degrees <= 35 ? 1 : 0;
      severe += degrees > 35 ? 1 : 0;
      assertTrue(degrees <= 75, degrees + "°");
      assertTrue(radius >= 2 && radius <= 40, radius + " mm");
      assertTrue(degrees <= 27 || radius <= 15, degrees + "° with " + radius + " mm");
      assertTrue(degrees <= 35 || radius <= 13, degrees + "° with " + radius + " mm");
    }
    assertEquals(0.87, (double) curved / n, 0.025);
    assertEquals(0.13, (double) strong / n, 0.025);
    assertEquals(0.09, (double) severe / n, 0.025);
  }

  /** De Deus, J Endod 1975;1:361: 27 % of teeth have one, from memory. */
  @Test
  void lateral_canals_come_only_on_request_and_change_nothing_else() throws Exception {
    int n = 2000;
    int with = 0;
    for (int i = 0; i < n; i++) {
      ParameterValues plain = member(i, Fill.HALF_WET).section("canal");
      ParameterValues side =
          population.withLateralCanals().member(i, Fill.HALF_WET, Map.of()).section("canal");
      assertEquals(0, plain.get(CanalSection.LATERAL_CANAL));
      with += side.get(CanalSection.LATERAL_CANAL) > 0 ? 1 : 0;
      for (Parameter p : CanalSection.TABLE.parameters()) {
        if (!p.key().startsWith("lateral_canal")) {
          assertEquals(plain.get(p), side.get(p), p.key());
        }
      }
    }
    assertEquals(0.27, (double) with / n, 0.03);
  }

  @Test
  void every_number_has_a_source() {
    Population.spreads()
        .values()
        .forEach(list -> list.forEach(s -> assertFalse(s.source().isBlank(), s.toString())));
  }

  @Test
  void fills_stand_where_their_names_say() throws Exception {
    for (int i = 0; i < 100; i++) {
      long length = member(i, Fill.DRY).section("canal").get(CanalSection.LENGTH);
      assertEquals(0, level(i, Fill.DRY));
      assertTrue(level(i, Fill.HALF_WET) < 0.61 * length);
      assertEquals(length, level(i, Fill.BRIMFUL));
      assertTrue(level(i, Fill.FLOODED) > length);
    }
  }

  private long level(long index, Fill fill) throws Exception {
    return member(index, fill).section("fluid").get(FluidSection.LEVEL);
  }
}
