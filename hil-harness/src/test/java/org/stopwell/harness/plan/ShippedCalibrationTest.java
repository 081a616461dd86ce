package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.settings.Calibration;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.calibration.ReferenceSweep;
import org.stopwell.rig.calibration.ReferenceSweep.Feature;

/** The curves that ship are those of the model that ships. */
class ShippedCalibrationTest {
  /** Ratio, millionths: far below the 3000 that one reading's noise of 0.3 % is worth. */
  private static final long RATIO_BOUND = 50;

  /** The file writes whole ohms. */
  private static final long OHM_BOUND_MILLI_OHMS = 1_000;

  private static List<Calibration.Point> shipped(String name) throws Exception {
    Source file = Source.of(TestPlans.file("first-stop").resolveSibling("../settings/" + name));
    return Settings.read(file).controller().calibration().points();
  }

  @Test
  void theRatioCurveEqualsAFreshSweepOfTheModel() throws Exception {
    Scene scene =
        Scene.of(
            Map.of(
                "canal",
                    Map.of(
                        "foramen_diameter_mm", "0.5",
                        "constriction_mm", "0.5",
                        "constriction_diameter_mm", "0.3",
                        "body_ohm", "6500"),
                "fluid", Map.of("level_mm", "8"),
                "file", Map.of("size", "25", "taper", "0.04"),
                "front_end", Map.of("frequency_1_hz", "630", "frequency_2_hz", "6300")),
            0);
    ReferenceSweep ratio = new ReferenceSweep(scene, Feature.RATIO);
    ReferenceSweep resistance = new ReferenceSweep(scene, Feature.RESISTANCE);
    List<Calibration.Point> points = shipped("length.yaml");
    assertTrue(points.size() > 20, points.size() + " points");
    for (Calibration.Point point : points) {
      int at = point.remainingMicrons();
      assertEquals(
          (double) ratio.at(at), (double) point.feature(), RATIO_BOUND, "ratio at " + at + " µm");
      assertEquals(
          (double) resistance.at(at),
          (double) point.lowMilliOhms(),
          OHM_BOUND_MILLI_OHMS,
          "resistance at " + at + " µm");
    }
  }

  @Test
  void theResistanceCurveEqualsAFreshSweepOfTheNetwork() throws Exception {
    Scene scene = Scene.of(Map.of("canal", Map.of("kind", "resistors")), 0);
    ReferenceSweep sweep = new ReferenceSweep(scene, Feature.RESISTANCE);
    for (Calibration.Point point : shipped("resistance.yaml")) {
      double fresh = sweep.at(point.remainingMicrons());
      // the cable's 100 pF take a little off
      assertEquals(fresh, (double) point.feature(), 1e-4 * fresh, point.toString());
    }
  }
}
