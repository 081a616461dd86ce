package org.stopwell.rig.physics.fluid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;

/** Golden values come from the displacement equations solved with a second program. */
class FillLimitTest {
  private static final double MM = 1e-3;
  private static final double AREA = Math.PI * 1.5 * 1.5 * 1e-6;
  private static final double SQUARE = 2 / Math.PI;
  private static final double TRIANGLE = 3 * Math.sqrt(3) / (4 * Math.PI);

  private static FillLimit limit(
      double canalTipMm, double solidFraction, double levelMm, double remainingMm) {
    Canal canal =
        Canal.plain(16 * MM, canalTipMm / 2 * MM, 0, canalTipMm / 2 * MM, 0.03, 1.5 * MM, 1000, 3);
    Instrument file =
        new Instrument(0.125 * MM, 0.02, 16e-3, solidFraction, 1, 0.85, 1e9, 1e-3, 0, 0, 0);
    return FillLimit.of(canal, file, levelMm * MM, AREA, 3 * MM, remainingMm * MM);
  }

  @Test
  void the_highest_dry_level_has_its_closed_form() {
    assertEquals(10.891713504, limit(0.25, 1, 16, 0).highestDry() / MM, 1e-8);
    assertEquals(11.351855403, limit(0.25, 1, 16, 0.5).highestDry() / MM, 1e-8);
    assertEquals(11.767202694, limit(0.25, 1, 16, 1).highestDry() / MM, 1e-8);
    assertEquals(13.091011282, limit(0.25, 1, 16, 3).highestDry() / MM, 1e-8);
    assertEquals(11.864633678, limit(0.30, 1, 16, 0.5).highestDry() / MM, 1e-8);
    assertEquals(13.584570427, limit(0.30, SQUARE, 16, 0.5).highestDry() / MM, 1e-8);
    assertEquals(14.500085754, limit(0.30, TRIANGLE, 16, 0.5).highestDry() / MM, 1e-8);
  }

  /**
   * The cutting part from 1 mm above the tip and 1 mm of shaft: π/3·15·(0.145² + 0.145·0.445 +
   * 0.445²) + π·0.445² mm³.
   */
  @Test
  void what_is_past_the_foramen_displaces_nothing() {
    assertEquals(5.076499569e-9, limit(0.30, 1, 8, -1).fileVolume(), 1e-17);
  }

  @Test
  void level_after_insertion_and_volumes_have_their_closed_form() {
    FillLimit limit = limit(0.30, 1, 8, 0.5);
    assertEquals(11.203241267, limit.levelAfter() / MM, 1e-6);
    assertEquals(8.610477145e-9, limit.canalVolume(), 1e-18);
    assertEquals(4.207626671e-9, limit.fileVolume(), 1e-18);
    assertTrue(limit.chamberStaysDry());
    assertEquals(0, limit.runsOver());
  }

  @Test
  void a_brimful_canal_must_lose_what_the_file_displaces() {
    FillLimit limit = limit(0.30, 1, 16, 0.5);
    assertFalse(limit.chamberStaysDry());
    assertEquals(limit.fileVolume(), limit.toRemove(), 1e-18);
    assertTrue(limit.levelAfter() > 16 * MM);
  }

  @Test
  void what_the_chamber_cannot_hold_runs_over() {
    FillLimit limit = limit(0.30, 1, 19, 0.5);
    assertEquals(limit.fileVolume(), limit.runsOver(), 1e-18);
    assertEquals(19 * MM, limit.levelAfter(), 1e-12);
  }

  /** Filling to the limit leaves the chamber dry, and a hair more does not: over a population. */
  @Test
  void the_limit_is_the_edge_for_every_canal() throws Exception {
    Population population = new Population(11);
    for (int i = 0; i < 300; i++) {
      Scene scene = population.member(i, Fill.HALF_WET, Map.of());
      Canal canal = Canal.of(scene.section("canal"));
      Instrument file = Instrument.of(scene.section("file"));
      double highest = FillLimit.of(canal, file, 5 * MM, AREA, 3 * MM, 0.5 * MM).highestDry();
      double below = FillLimit.of(canal, file, highest - 1e-8, AREA, 3 * MM, 0.5 * MM).levelAfter();
      double above = FillLimit.of(canal, file, highest + 1e-8, AREA, 3 * MM, 0.5 * MM).levelAfter();
      assertTrue(below < canal.length(), "member " + i);
      assertTrue(above > canal.length(), "member " + i);
      assertEquals(canal.length(), below, 1e-6);
    }
  }
}
