package org.stopwell.rig.physics.file;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.rig.bench.FileCondition;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Bend;

/** What breaks a file. */
class WearTest {
  private static final double TURN = 2 * Math.PI;

  /** Shear of a solid round 3 mm from the tip at 1000 MPa, τπd³/16, computed: mN·m. */
  @ParameterizedTest
  @CsvSource({
    "20, 0.04, 6.434",
    "25, 0.04, 9.946",
    "25, 0.06, 15.611",
    "30, 0.04, 14.547",
    "40, 0.04, 27.608"
  })
  void a_file_twists_off_above_the_torque_of_its_diameter_three_millimetres_up(
      String size, String taper, double milliNewtonMetres) throws Exception {
    Wear wear = wear(Map.of("size", size, "taper", taper, "shear_strength_mpa", "1000"));
    assertEquals(milliNewtonMetres * 1e-3, wear.strength(), 1e-6);
    wear.twist(-0.999 * wear.strength());
    assertEquals(FileCondition.WHOLE, wear.condition());
    wear.twist(-1.001 * wear.strength());
    assertEquals(FileCondition.TWISTED_OFF, wear.condition());
  }

  /** Coffin and Manson with ε₀ = 0.3, c = 0.5 at 4 %: 28.125 turns, computed. */
  @Test
  void turns_to_breaking_follow_the_fatigue_line() {
    Metal metal = new Metal(7e8, 4e10, 0.3, 0.5, 0.3);
    assertEquals(28.125, metal.turnsToBreak(0.04), 1e-9);
    assertEquals(4 * 28.125, metal.turnsToBreak(0.02), 1e-9);
    assertEquals(Double.POSITIVE_INFINITY, metal.turnsToBreak(0));
  }

  @Test
  void a_bent_file_breaks_after_its_turns_however_they_are_made() throws Exception {
    double strain = 0.04;
    Wear steady = wear(Map.of());
    Wear strokes = wear(Map.of());
    int turns = 0;
    while (steady.condition() == FileCondition.WHOLE) {
      steady.bend(TURN, strain);
      turns++;
    }
    double bent = 0;
    while (strokes.condition() == FileCondition.WHOLE) {
      strokes.bend(TURN / 3, strain);
      strokes.bend(-TURN / 6, strain);
      bent += 0.5;
    }
    assertEquals(FileCondition.BENT_OFF, steady.condition());
    assertEquals(0.5 * Math.pow(1.3 / 0.04, 2), turns, 1);
    assertEquals(turns, bent, 1);
  }

  @Test
  void a_straight_canal_never_tires_a_file() throws Exception {
    Wear wear = wear(Map.of());
    wear.bend(1e9, 0);
    assertEquals(0, wear.damage());
    assertEquals(FileCondition.WHOLE, wear.condition());
  }

  /**
   * Pruett, Clement and Carnes, J Endod 1997;23:77: a tighter curve and a thicker shaft break
   * sooner.
   */
  @Test
  void a_tighter_curve_and_a_thicker_file_break_sooner() throws Exception {
    Metal metal = Metal.of(Scene.of(Map.of(), 0).section("file"));
    Instrument thin = instrument("30");
    Instrument thick = instrument("40");
    Bend wide = new Bend(Math.PI / 4, 5e-3, 4e-3);
    Bend tight = new Bend(Math.PI / 4, 2e-3, 4e-3);
    double easy = metal.turnsToBreak(wide.strain(thin, 0));
    assertTrue(metal.turnsToBreak(tight.strain(thin, 0)) < easy);
    assertTrue(metal.turnsToBreak(wide.strain(thick, 0)) < easy);
    // surface strain d/2R: 0.4 mm in 5 mm is 4 %
    assertEquals(
        0.04, wide.strain(new Instrument(0.2e-3, 0, 16e-3, 1, 1, 1, 1, 1, 0, 0, 0), 0), 1e-12);
    assertEquals(0, wide.strain(thin, 4.1e-3), "not before the tip is in the curve");
  }

  /** A round rod of 0.4 mm, 40 GPa, in an arc of 5 mm radius and 30°: M = EI/R = 10.05 mN·m. */
  @Test
  void a_bent_file_rubs_in_its_curve() {
    Metal metal = new Metal(7e8, 40e9, 1.3, 0.5, 0.3);
    Instrument rod = new Instrument(0.2e-3, 0, 16e-3, 1, 1, 1, 1, 1, 0, 0, 0);
    Bend curve = new Bend(Math.PI / 6, 5e-3, 4e-3);
    double moment = 40e9 * Math.PI * Math.pow(0.4e-3, 4) / 64 / 5e-3;
    assertEquals(10.05e-3, moment, 0.01e-3);
    double wall = 8 * moment / (5e-3 * Math.PI / 6);
    assertEquals(0.3 * wall * 0.2e-3, curve.friction(rod, metal, 1e-3), 1e-12);
    assertEquals(0, curve.friction(rod, metal, 5e-3));
    assertEquals(0, new Bend(0, 5e-3, 4e-3).friction(rod, metal, 1e-3));
  }

  private static Instrument instrument(String size) throws Exception {
    return Instrument.of(Scene.of(Map.of("file", Map.of("size", size)), 0).section("file"));
  }

  private static Wear wear(Map<String, String> file) throws Exception {
    Scene scene = Scene.of(Map.of("file", file), 0);
    return new Wear(Instrument.of(scene.section("file")), Metal.of(scene.section("file")));
  }
}
