package org.stopwell.rig.physics.fluid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashMap;
import java.util.Map;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.file.Instrument;

/** Flutes, chips and plugs against closed forms, and no fluid that comes or goes unseen. */
class CarriedFluidTest {
  private static final double MM = 1e-3;
  private static final double MM3 = 1e-9;

  /** The default of {@code fluid.chamber_area_mm2}. */
  private static final double AREA = 7.069e-6;

  /** Cone 40/.06 of 16 mm: wide enough for the file 25/.06, which holds 2.84 mm³ in its flutes. */
  private final Canal canal = Canal.plain(16 * MM, 0.2 * MM, 0, 0.2 * MM, 0.03, 1.5 * MM, 1000, 3);

  private final Bore bore = new Bore(canal);
  private final Instrument file =
      new Instrument(0.125 * MM, 0.03, 16e-3, 0.6, 1, 0.85, 1e9, 1e-3, 0, 0, 0);

  private FluidColumn column(String keys) throws Exception {
    Map<String, String> fluid = new HashMap<>();
    for (String word : keys.split(" ", -1)) {
      fluid.put(word.substring(0, word.indexOf('=')), word.substring(word.indexOf('=') + 1));
    }
    ParameterValues values = Scene.of(Map.of("fluid", fluid), 0).section("fluid");
    return FluidColumn.of(values, canal, bore, file);
  }

  /** Volume of the cone of the canal up to a height, mm³. */
  private static double cone(double mm) {
    double r = 0.2 + 0.03 * mm;
    return Math.PI * (r * r * r - 0.008) / (3 * 0.03);
  }

  /** Volume between the turns of 25/.06 up to a length, κ = 0.6, mm³. */
  private static double flutes(double mm) {
    double r = 0.125 + 0.03 * mm;
    return 0.4 * Math.PI * (r * r * r - 0.001953125) / (3 * 0.03);
  }

  @Test
  void theFlutesOf25With06Hold2Point8CubicMillimetresOver15AndAHalf() {
    assertEquals(2.84, file.flutes(15.5 * MM) / MM3, 0.005);
    assertEquals(flutes(15.5), file.flutes(15.5 * MM) / MM3, 1e-9);
    assertEquals(file.flutes(16 * MM), file.flutes(21 * MM), "the shaft has none");
    assertEquals(0, file.flutes(-MM));
  }

  /** The level falls by the share of the wet flutes at every withdrawal; the cone gives it. */
  @Test
  void everyWithdrawalTakesTheFluidOfTheFlutes() throws Exception {
    FluidColumn fluid = column("level_mm=10 flutes_out_share=0.8");
    double left = cone(10);
    for (int i = 0; i < 3; i++) {
      for (int k = 340; k >= 20; k--) {
        fluid.follow(k * 0.05 * MM);
      }
      left -= 0.8 * flutes(Math.min(16, fluid.level() / MM - 1));
      for (int k = 20; k <= 340; k++) {
        fluid.follow(k * 0.05 * MM);
      }
      assertEquals(left, cone(fluid.level() / MM), 0.005, "withdrawal " + i);
      assertEquals(left - cone(10), fluid.exchanged() / MM3, 0.005);
    }
  }

  /** Before it is out of the canal a file gives back what it holds. */
  @Test
  void aFileThatGoesBackInGivesBackWhatItHolds() throws Exception {
    FluidColumn fluid = column("level_mm=8 flutes_out_share=0.8");
    fluid.follow(2 * MM);
    double before = fluid.level();
    fluid.follow(12 * MM);
    assertTrue(fluid.level() < 8 * MM, "held above the surface");
    fluid.follow(2 * MM);
    assertEquals(before, fluid.level(), 1e-8);
    fluid.follow(17 * MM);
    assertTrue(fluid.level() < 8 * MM, "wiped off");
  }

  /** A dipped file brings its share of all flutes, and a dry canal gets wet. */
  @Test
  void aDippedFileBringsFluidIn() throws Exception {
    FluidColumn fluid = column("level_mm=8 flutes_in_share=0.5");
    fluid.follow(15.99 * MM);
    assertEquals(8, fluid.level() / MM, 0.05, "still in its flutes");
    assertEquals(0.5 * flutes(16), fluid.exchanged() / MM3, 1e-6);
    fluid.follow(0.5 * MM);
    double submerged = fluid.level() / MM - 0.5;
    double metal = 1.5 * flutes(submerged);
    double held = 0.5 * (flutes(16) - flutes(submerged));
    assertEquals(
        cone(8) + 0.5 * flutes(16), cone(fluid.level() / MM) - metal + held, 1e-5, "all of it");
  }

  /** Chips that all stay take the room that was cut: the level stays, whatever the file cuts. */
  @Test
  void chipsTakeTheRoomThatWasCut() throws Exception {
    for (double share : new double[] {0, 0.4, 1}) {
      Bore cut = new Bore(canal);
      FluidColumn fluid =
          FluidColumn.of(
              Scene.of(Map.of("fluid", Map.of("level_mm", "8", "chips_share", share + "")), 0)
                  .section("fluid"),
              canal,
              cut,
              file);
      Instrument wide = new Instrument(0.5 * MM, 0, 16e-3, 1, 1, 0.85, 1e9, 1e-3, 0, 0, 0);
      double volume = cut.carve(wide, 2 * MM);
      fluid.addChips(volume);
      fluid.follow(17 * MM);
      assertEquals(
          cone(8) * MM3 + share * volume, cut.volumeBelow(fluid.level()), 1e-15, "share " + share);
    }
  }

  /** A plug gives way upwards: the file pushes its metal into the chamber, as Archimedes says. */
  @Test
  void aFileFloodsTheChamberThroughAPlugAboveALowLevel() throws Exception {
    FluidColumn fluid = column("level_mm=4 plug_mm=2");
    fluid.follow(17 * MM);
    assertEquals(14 * MM, fluid.plugBottom(), 1e-12);
    assertEquals(0, fluid.plugDepth());
    fluid.follow(8 * MM);
    double metal = 1.5 * (flutes(8) - flutes(6));
    assertEquals(metal * MM3 / AREA, fluid.plugDepth(), 1e-9);
    assertTrue(fluid.level() < 5 * MM, "the flat level is far below");
    assertEquals((cone(4) + cone(16) - cone(14)) * MM3, fluid.volume(), 1e-16);
  }

  @Test
  void aColumnThatReachesThePlugJoinsIt() throws Exception {
    FluidColumn fluid = column("level_mm=12 plug_mm=1");
    fluid.follow(0.5 * MM);
    assertEquals(Double.POSITIVE_INFINITY, fluid.plugBottom());
    double whole = cone(12) + cone(16) - cone(15);
    double depth = (whole - cone(16) + 1.5 * flutes(15.5)) * MM3 / AREA;
    assertEquals(16 * MM + depth, fluid.level(), 1e-8);
  }

  /** What is in canal, chamber and flutes is what was there and what the flutes exchanged. */
  @Test
  void noFluidComesOrGoesUnseen() throws Exception {
    SplittableRandom random = new SplittableRandom(24);
    for (int scene = 0; scene < 40; scene++) {
      double out = Math.round(random.nextDouble(0.95) * 1e3) * 1e-3;
      double in = Math.round(random.nextDouble(0.6) * 1e3) * 1e-3;
      double start = Math.round(random.nextDouble(1, 12) * 1e3) / 1e3;
      FluidColumn fluid =
          column(
              "chamber_depth_mm=15 level_mm="
                  + start
                  + " flutes_out_share="
                  + String.format(java.util.Locale.ROOT, "%.3f", out)
                  + " flutes_in_share="
                  + String.format(java.util.Locale.ROOT, "%.3f", in));
      Flutes held = new Flutes(file, out, in);
      double remaining = 17;
      for (int step = 0; step < 200; step++) {
        remaining = Math.max(-1, Math.min(17.5, remaining + random.nextDouble(-2, 2)));
        double tip = remaining * MM;
        fluid.follow(tip);
        held.pass(tip < canal.length());
        double level = fluid.level();
        double inCanal = Math.min(level, canal.length());
        double metal = file.volume(inCanal - tip) - file.volume(-tip);
        double there =
            bore.volumeBelow(inCanal) - metal + AREA * (level - inCanal) + held.held(inCanal - tip);
        held.reach(inCanal - tip);
        String place = "scene " + scene + ", step " + step + ", tip " + remaining + " mm";
        // The level is found to 1 nm: a thousandth of a µm over 3 mm² at most.
        assertEquals(cone(start) * MM3 + fluid.exchanged(), there, 1e-14, place);
        assertEquals(there, fluid.volume(), 1e-14, place);
      }
    }
  }
}
