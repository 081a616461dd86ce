package org.stopwell.rig.physics.fluid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.file.Instrument;

/** Golden values come from the displacement equations solved with a second program. */
class FluidColumnTest {
  private static final double MM = 1e-3;
  private static final double MM3 = 1e-9;
  private static final double CHAMBER_AREA = Math.PI * 1.5 * 1.5 * 1e-6;
  private static final double SQUARE = 2 / Math.PI;

  private static Canal cone(double tipDiameterMm, double taper) {
    return Canal.plain(
        16 * MM, tipDiameterMm / 2 * MM, 0, tipDiameterMm / 2 * MM, taper / 2, 1.5 * MM, 1000, 3);
  }

  private static Instrument file(double solidFraction) {
    return new Instrument(0.125 * MM, 0.02, 16e-3, solidFraction, 1, 0.85, 1e9, 1e-3, 0, 0, 0);
  }

  private static double levelAfter(
      Canal canal, Instrument file, double levelMm, double remainingMm, double depthMm) {
    FluidColumn fluid =
        new FluidColumn(canal, new Bore(canal), file, levelMm * MM, CHAMBER_AREA, depthMm * MM);
    fluid.follow(remainingMm * MM);
    return fluid.level() / MM;
  }

  @Test
  void volumes_of_canal_and_file_are_frusta() {
    assertEquals(7.661716164, new Bore(cone(0.25, 0.06)).volumeBelow(16 * MM) / MM3, 1e-9);
    assertEquals(8.610477145, new Bore(cone(0.30, 0.06)).volumeBelow(16 * MM) / MM3, 1e-9);
    assertEquals(4.511745930, file(1).volume(16 * MM) / MM3, 1e-9);
    assertEquals(4.207626671, file(1).volume(15.5 * MM) / MM3, 1e-9);
    assertEquals(3.917173340, file(1).volume(15 * MM) / MM3, 1e-9);
    assertEquals(2.885736112, file(1).volume(13 * MM) / MM3, 1e-9);
  }

  @Test
  void the_level_after_insertion_is_the_root_of_the_cubic() {
    Canal canal = cone(0.30, 0.06);
    assertEquals(8.672245802, levelAfter(canal, file(1), 6, 0.5, 3), 1e-6);
    assertEquals(11.203241267, levelAfter(canal, file(1), 8, 0.5, 3), 1e-6);
    assertEquals(13.695418054, levelAfter(canal, file(1), 10, 0.5, 3), 1e-6);
  }

  @Test
  void the_highest_dry_fill_brings_the_level_just_to_the_orifice() {
    Canal narrow = cone(0.25, 0.06);
    assertEquals(16, levelAfter(narrow, file(1), 10.891713504, 0, 3), 1e-6);
    assertEquals(16, levelAfter(narrow, file(1), 11.351855403, 0.5, 3), 1e-6);
    assertEquals(16, levelAfter(narrow, file(1), 11.767202694, 1, 3), 1e-6);
    assertEquals(16, levelAfter(narrow, file(1), 13.091011282, 3, 3), 1e-6);
    Canal wide = cone(0.30, 0.06);
    assertEquals(16, levelAfter(wide, file(1), 11.864633678, 0.5, 3), 1e-6);
    assertEquals(16, levelAfter(wide, file(SQUARE), 13.584570427, 0.5, 3), 1e-6);
    assertEquals(
        16, levelAfter(wide, file(3 * Math.sqrt(3) / (4 * Math.PI)), 14.500085754, 0.5, 3), 1e-6);
  }

  @Test
  void a_brimful_canal_floods_the_chamber_by_what_the_file_displaces() {
    double rise = levelAfter(cone(0.25, 0.06), file(1), 16, 0.5, 10) - 16;

    assertEquals(4.207626671 * 0.141471, rise, 1e-5);
  }

  @Test
  void what_runs_over_the_chamber_does_not_come_back() {
    Canal canal = cone(0.25, 0.06);
    FluidColumn fluid =
        new FluidColumn(canal, new Bore(canal), file(1), 16 * MM, CHAMBER_AREA, 0.2 * MM);
    fluid.follow(0.5 * MM);
    assertEquals(16.2, fluid.level() / MM, 1e-9);

    fluid.follow(17 * MM);
    assertTrue(fluid.level() < 14 * MM, "level " + fluid.level());
  }

  @Test
  void a_file_drawn_out_leaves_the_level_as_it_was() {
    Canal canal = cone(0.25, 0.06);
    FluidColumn fluid =
        new FluidColumn(canal, new Bore(canal), file(1), 8 * MM, CHAMBER_AREA, 3 * MM);
    fluid.follow(0.5 * MM);
    assertTrue(fluid.level() > 10 * MM);
    fluid.follow(17 * MM);
    assertEquals(8 * MM, fluid.level(), 1e-9);
  }

  /** Somebody fills the chamber when the tip passes 4 mm; drawing out leaves what the file did. */
  @Test
  void a_hand_may_flood_the_chamber_on_the_way() throws Exception {
    Map<String, String> keys =
        Map.of("level_mm", "0", "chamber_depth_mm", "3", "floods_at_mm", "4");
    Canal canal = cone(0.25, 0.06);
    FluidColumn fluid =
        FluidColumn.of(
            Scene.of(Map.of("fluid", keys), 0).section("fluid"), canal, new Bore(canal), file(1));
    fluid.follow(4.01 * MM);
    assertEquals(0, fluid.level());
    fluid.follow(4 * MM);
    assertEquals(19 * MM, fluid.level(), 1e-9);
    fluid.follow(3.9 * MM);
    assertEquals(19 * MM, fluid.level(), 1e-9);
    fluid.follow(20 * MM);
    assertTrue(fluid.level() < 19 * MM, "once only, " + fluid.level());
  }

  @Test
  void a_dry_canal_stays_dry() {
    assertEquals(0, levelAfter(cone(0.25, 0.06), file(1), 0, 0, 3));
  }

  @Test
  void a_file_past_the_foramen_displaces_only_inside_of_the_canal() {
    Canal canal = cone(0.25, 0.06);
    double atForamen = levelAfter(canal, file(1), 8, 0, 3);
    double past = levelAfter(canal, file(1), 8, -1, 3);
    assertTrue(past > atForamen);
    Instrument thicker = new Instrument(0.145 * MM, 0.02, 16e-3, 1, 1, 0.85, 1e9, 1e-3, 0, 0, 0);
    assertEquals(past, levelAfter(canal, thicker, 8, 0, 3), 1e-9);
  }
}
