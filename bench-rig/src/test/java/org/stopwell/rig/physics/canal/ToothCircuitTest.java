package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.virtual.Specimen;

class ToothCircuitTest {
  private static final double MM = 1e-3;
  private static final int LOW = 0;
  private static final int HIGH = 1;

  private static Scene level(String levelMm) throws Exception {
    return Scene.of(Map.of("fluid", Map.of("level_mm", levelMm)), 0);
  }

  private static double size(MeasuringCircuit z, int frequency) {
    return Math.hypot(z.ohmsRe(frequency), z.ohmsIm(frequency));
  }

  private static double phase(MeasuringCircuit z, int frequency) {
    return Math.toDegrees(Math.atan2(z.ohmsIm(frequency), z.ohmsRe(frequency)));
  }

  /**
   * Rambo et al., BioMed Eng OnLine 2010;9:46, in vivo: mainly resistive from 3 to 1 mm short,
   * complex from about 1 mm short on, and increasingly so.
   */
  @Test
  void impedance_turns_complex_in_the_last_millimetre() throws Exception {
    Specimen tooth = new Specimen(level("8"));
    for (double z = 3; z >= 1.5; z -= 0.1) {
      assertTrue(Math.abs(phase(tooth.at(z * MM), LOW)) < 8, "at " + z);
    }
    assertTrue(Math.abs(phase(tooth.at(0.1 * MM), LOW)) > 14);
    for (double z = 1.5; z > 0.2; z -= 0.1) {
      double here = phase(tooth.at(z * MM), LOW);
      assertTrue(phase(tooth.at((z - 0.1) * MM), LOW) < here, "at " + z);
    }
  }

  /** Kim, Kim & Cho, Restor Dent Endod 2015;40:113: a ramp that falls towards the foramen. */
  @Test
  void the_ratio_of_two_frequencies_falls_all_the_way_to_the_foramen() throws Exception {
    for (String levelMm : new String[] {"5", "8", "11", "16", "18"}) {
      Specimen tooth = new Specimen(level(levelMm));
      double last = Double.POSITIVE_INFINITY;
      for (double z = 3; z >= -1; z -= 0.02) {
        MeasuringCircuit here = tooth.at(z * MM);
        double ratio = size(here, HIGH) / size(here, LOW);
        assertTrue(ratio < last, "level " + levelMm + " at " + z);
        last = ratio;
      }
    }
  }

  @Test
  void impedance_has_no_jumps_while_the_file_is_in_fluid() throws Exception {
    Specimen tooth = new Specimen(level("8"));
    double last = size(tooth.at(7 * MM), LOW);
    for (double z = 7; z >= -2; z -= 0.001) {
      double here = size(tooth.at(z * MM), LOW);
      assertEquals(last, here, 0.003 * last, "at " + z);
      last = here;
    }
  }

  @Test
  void a_tip_above_the_fluid_is_an_open_circuit() throws Exception {
    MeasuringCircuit z = new Specimen(level("8")).at(10 * MM);
    assertTrue(size(z, LOW) > 1e6);
    assertTrue(size(z, HIGH) > 100e3);
    assertTrue(phase(z, HIGH) < -80);
  }

  @Test
  void a_dry_canal_stays_open_until_the_tip_touches_tissue() throws Exception {
    Specimen tooth = new Specimen(level("0"));
    assertTrue(size(tooth.at(0.01 * MM), LOW) > 500e3);
    assertTrue(size(tooth.at(-0.1 * MM), LOW) < 30e3);
  }

  @Test
  void a_brimful_canal_in_tight_dentine_grows_a_leak_that_spoils_the_ratio() throws Exception {
    Map<String, String> tight = Map.of("wall_ohm_m", "1000");
    Specimen halfWet =
        new Specimen(Scene.of(Map.of("canal", tight, "fluid", Map.of("level_mm", "8")), 0));
    Specimen brimful =
        new Specimen(Scene.of(Map.of("canal", tight, "fluid", Map.of("level_mm", "16")), 0));
    double good = size(halfWet.at(0.5 * MM), HIGH) / size(halfWet.at(0.5 * MM), LOW);
    double spoilt = size(brimful.at(0.5 * MM), HIGH) / size(brimful.at(0.5 * MM), LOW);
    assertTrue(brimful.level() > 16 * MM);
    assertTrue(spoilt > good + 0.04, good + " against " + spoilt);
  }

  /** The stated error of the node spacing: 0.1 % as a rule, 1 % at worst, up to 20 kHz. */
  @Test
  void graded_nodes_agree_with_very_fine_ones() throws Exception {
    List<Double> errors = new ArrayList<>();
    for (int i = 0; i < 24; i++) {
      Scene scene =
          new Population(5).member(i, Fill.values()[1 + i % 3], SpiceComparison.frontEnd());
      Specimen graded = new Specimen(scene);
      Specimen fine = new Specimen(scene, 40);
      for (double z = 6; z >= -1; z -= 0.73) {
        MeasuringCircuit a = graded.at(z * MM);
        MeasuringCircuit b = fine.at(z * MM);
        for (int f = 0; f < 4; f++) {
          double miss = Math.hypot(a.ohmsRe(f) - b.ohmsRe(f), a.ohmsIm(f) - b.ohmsIm(f));
          errors.add(miss / size(b, f));
        }
      }
    }
    Collections.sort(errors);
    assertTrue(errors.get(errors.size() / 2) < 0.001, "median " + errors.get(errors.size() / 2));
    assertTrue(errors.get(errors.size() - 1) < 0.01, "worst " + errors.get(errors.size() - 1));
  }

  @Test
  void a_resistor_network_is_body_plus_ohms_per_millimetre() throws Exception {
    Specimen network =
        new Specimen(Scene.of(Map.of("canal", Map.of("kind", "resistors", "body_ohm", "6500")), 0));
    // 100 pF of cable moves the magnitude by less than 4 ppm at 630 Hz
    assertEquals(6500, size(network.at(0), LOW), 0.05);
    assertEquals(9500, size(network.at(1 * MM), LOW), 0.2);
    assertEquals(5000, size(network.at(-0.5 * MM), LOW), 0.05);
    assertTrue(size(network.at(16.1 * MM), LOW) > 1e6);
  }

  private static double at(double z, Map<String, Map<String, String>> scene) throws Exception {
    return size(new Specimen(Scene.of(scene, 0)).at(z * MM), LOW);
  }

  /** 2 % per kelvin: saline 1.60 S/m at 25 °C is 1.984 S/m at 37 °C. */
  @Test
  void warm_fluid_conducts_as_a_stronger_one() throws Exception {
    assertEquals(
        at(2, Map.of("fluid", Map.of("conductivity_s_per_m", "1.984"))),
        at(2, Map.of("fluid", Map.of("temperature_c", "37"))),
        1e-6);
  }

  @Test
  void blood_at_the_foramen_raises_the_impedance_above_it() throws Exception {
    double clean = at(1.5, tight(Map.of()));
    assertEquals(
        clean, at(1.5, tight(Map.of("exudate_mm", "1", "exudate_s_per_m", "1.6"))), 3e-4 * clean);
    assertTrue(at(1.5, tight(Map.of("exudate_mm", "1"))) > 1.2 * clean);
  }

  @Test
  void a_lateral_canal_draws_current_once_the_tip_comes_near_it() throws Exception {
    double without = at(3.5, tight(Map.of()));
    assertTrue(
        at(3.5, tight(Map.of("lateral_canal_mm", "3", "lateral_canal_ohm", "20000")))
            < 0.8 * without);
    assertEquals(
        without,
        at(3.5, tight(Map.of("lateral_canal_mm", "3", "lateral_canal_ohm", "100000000"))),
        20);
  }

  /** A canal in dentine that lets little through. */
  private static Map<String, Map<String, String>> tight(Map<String, String> canal) {
    Map<String, String> all = new HashMap<>(canal);
    all.put("wall_ohm_m", "1000");
    return Map.of("canal", all);
  }

  @Test
  void a_wet_tip_draws_a_thread_of_fluid_up_until_it_breaks() throws Exception {
    Specimen tooth = new Specimen(Scene.of(Map.of("fluid", Map.of("meniscus_mm", "0.5")), 0));
    assertTrue(size(tooth.at(8.3 * MM), LOW) > 1e6, "not yet wet");
    tooth.at(7 * MM);
    assertTrue(size(tooth.at(8.3 * MM), LOW) < 100e3, "thread");
    assertTrue(size(tooth.at(8.6 * MM), LOW) > 1e6, "broken");
    assertTrue(size(tooth.at(8.3 * MM), LOW) > 1e6, "not wet again");
  }

  /** The circuit keeps its nodes below the tip from place to place; that must not show. */
  @Test
  void a_tip_that_came_from_elsewhere_meets_the_same_impedance_to_the_bit() throws Exception {
    long seed = 20261125;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    for (String levelMm : new String[] {"0", "8", "15.9", "19"}) {
      Scene scene =
          Scene.of(
              Map.of(
                  "fluid", Map.of("level_mm", levelMm),
                  "canal",
                      Map.of(
                          "lateral_canal_ohm",
                          "20000",
                          "lateral_canal_mm",
                          "3",
                          "exudate_mm",
                          "2")),
              0);
      Canal canal = Canal.of(scene.section("canal"));
      Bore bore = new Bore(canal);
      Instrument file = Instrument.of(scene.section("file"));
      ToothCircuit old = circuit(scene, canal, bore, file);
      double deepest = 18 * MM;
      double tip = 18 * MM;
      for (int step = 0; step < 3000; step++) {
        tip +=
            MM
                * (random.nextInt(50) == 0
                    ? random.nextDouble() * 20 - 10
                    : 0.1 * random.nextGaussian() - 0.01);
        tip = Math.max(-2 * MM, Math.min(18 * MM, tip));
        if (random.nextInt(100) == 0 && tip < deepest) {
          deepest = tip;
          bore.carve(file, tip);
        }
        double level = Double.parseDouble(levelMm) * MM * (1 - 0.1 * random.nextDouble());
        ToothCircuit fresh = circuit(scene, canal, bore, file);
        old.solve(tip, level);
        fresh.solve(tip, level);
        for (int frequency : new int[] {LOW, HIGH}) {
          String where = "tip " + tip + " m, level " + level + " m";
          assertEquals(fresh.ohmsRe(frequency), old.ohmsRe(frequency), 0.0, where);
          assertEquals(fresh.ohmsIm(frequency), old.ohmsIm(frequency), 0.0, where);
        }
      }
    }
  }

  private static ToothCircuit circuit(Scene scene, Canal canal, Bore bore, Instrument file) {
    return new ToothCircuit(
        Surroundings.of(scene.section("canal"), scene.section("fluid")),
        canal,
        bore,
        file,
        FrontEndSection.hertz(scene.section("front_end")),
        20e-12,
        1);
  }
}
