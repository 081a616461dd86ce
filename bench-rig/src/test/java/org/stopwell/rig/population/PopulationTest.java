package org.stopwell.rig.population;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.Constriction;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Irrigant;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Canal;
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
    assertEquals(12.4, mean, 0.15);
    assertEquals(1.8, Math.sqrt(squares / n - mean * mean), 0.15);
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

  /** De Deus, J Endod 1975;1:361, from memory: 17.0, 8.8 and 1.6 % of 1140 teeth. */
  @Test
  void lateral_canals_come_by_thirds() throws Exception {
    int n = 2000;
    int[] thirds = new int[3];
    for (int i = 0; i < n; i++) {
      ParameterValues canal = member(i, Fill.HALF_WET).section("canal");
      double share =
          canal.get(CanalSection.LATERAL_CANAL) / (double) canal.get(CanalSection.LENGTH);
      assertTrue(share <= 1, "member " + i);
      if (share > 0) {
        thirds[Math.min(2, (int) (3 * share))]++;
      }
    }
    assertEquals(0.170, (double) thirds[0] / n, 0.025);
    assertEquals(0.088, (double) thirds[1] / n, 0.02);
    assertEquals(0.016, (double) thirds[2] / n, 0.01);
  }

  /** Between 52 and 8 % traditional, 29 and 15 % parallel, none and 65 % without. */
  @Test
  void canals_end_as_two_studies_found_or_stand_open() throws Exception {
    int n = 2000;
    int[] forms = new int[Constriction.values().length];
    int open = 0;
    for (int i = 0; i < n; i++) {
      ParameterValues values = member(i, Fill.HALF_WET).section("canal");
      Canal canal = Canal.of(values);
      forms[CanalSection.constriction(values).ordinal()]++;
      boolean wide = canal.foramenRadius() >= 0.5e-3;
      open += wide ? 1 : 0;
      assertTrue(!wide || canal.constrictionRadius() == canal.foramenRadius(), "member " + i);
      assertTrue(canal.foramenRadius() >= canal.constrictionRadius(), "member " + i);
    }
    assertEquals(0.36, (double) forms[0] / n, 0.03);
    assertEquals(0.23, (double) forms[1] / n, 0.03);
    assertEquals(0.165, (double) forms[2] / n, 0.03);
    assertEquals(0.24, (double) forms[3] / n, 0.03);
    assertEquals(0.03, (double) open / n, 0.012);
  }

  /**
   * Sunada, J Dent Res 1962;41:375: 6.5 kΩ from a file at the foramen to the mucosa, all of it. The
   * middle member has that between the foramen and the lip clip.
   */
  @Test
  void the_whole_path_from_the_foramen_is_six_and_a_half_kilohm() throws Exception {
    int n = 2000;
    double[] whole = new double[n];
    for (int i = 0; i < n; i++) {
      ParameterValues values = member(i, Fill.HALF_WET).section("canal");
      whole[i] = Canal.of(values).spreadingOhms() + values.get(CanalSection.BODY);
    }
    Arrays.sort(whole);
    // a narrow foramen alone can have more, so the middle is a little higher
    assertEquals(6500, whole[n / 2], 500);
    assertTrue(whole[n / 20] > 4200, "5 % below " + whole[n / 20]);
    assertTrue(whole[n - n / 20] < 12_000, "5 % above " + whole[n - n / 20]);
  }

  /** The measured order of conductivity is in IrrigantTest; here, that every one is in use. */
  @Test
  void canals_hold_the_irrigants_that_people_use() throws Exception {
    int n = 2000;
    int[] counts = new int[Irrigant.values().length];
    for (int i = 0; i < n; i++) {
      ParameterValues fluid = member(i, Fill.HALF_WET).section("fluid");
      counts[FluidSection.irrigant(fluid).ordinal()]++;
      long deci = fluid.get(FluidSection.TEMPERATURE);
      assertTrue(deci >= 250 && deci <= 370, deci + " tenths of °C");
    }
    for (IrrigantSpread one : IrrigantSpread.IRRIGANTS) {
      double share = (double) counts[one.irrigant().ordinal()] / n;
      assertEquals(one.share(), share, 0.03, one.irrigant().key());
    }
    assertEquals(0, counts[Irrigant.UNNAMED.ordinal()] + counts[Irrigant.WATER.ordinal()]);
  }

  @Test
  void a_conductivity_of_ones_own_takes_the_place_of_the_irrigant() throws Exception {
    Map<String, Map<String, String>> own = Map.of("fluid", Map.of("conductivity_s_per_m", "1.6"));
    for (int i = 0; i < 20; i++) {
      ParameterValues fluid = population.member(i, Fill.HALF_WET, own).section("fluid");
      assertEquals(1.6, FluidSection.siemensPerMetreAt25(fluid), 1e-12);
    }
  }

  /** EDTA dissolves a smear layer; hypochlorite alone does not. */
  @Test
  void no_smear_layer_outlasts_edta() throws Exception {
    int n = 2000;
    int smeared = 0;
    for (int i = 0; i < n; i++) {
      Scene scene = member(i, Fill.HALF_WET);
      boolean film = scene.section("canal").get(CanalSection.SMEAR) > 0;
      smeared += film ? 1 : 0;
      assertFalse(film && FluidSection.irrigant(scene.section("fluid")) == Irrigant.EDTA);
    }
    assertEquals(0.45, (double) smeared / n, 0.04);
  }

  @Test
  void every_number_has_a_source() {
    Stream.concat(
            Population.spreads().values().stream().flatMap(List::stream),
            Population.spreadsOfSome().stream())
        .forEach(s -> assertFalse(s.source().isBlank(), s.toString()));
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
