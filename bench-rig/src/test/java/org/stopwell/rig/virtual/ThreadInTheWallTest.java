package org.stopwell.rig.virtual;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.Scene;

/** What the flutes of a turning file do in a wall: pitch times 1 − slip per turn. */
class ThreadInTheWallTest {
  private static final double TURN = 2 * Math.PI;

  @Test
  void aFileThatTurnsBackIsDrivenOutByItsPitchLessSlip() throws Exception {
    Specimen specimen = specimen(Map.of());
    double deep = cutDown(specimen, 1);
    assertEquals(0.15e-3, turn(specimen, deep, -1) - deep, 1e-9, "the default: 1.5 mm, 90 %");
    Specimen coarse = specimen(Map.of("screw_out_mm_per_turn", "0.3"));
    deep = cutDown(coarse, 1);
    assertEquals(0.3e-3, turn(coarse, deep, -1) - deep, 1e-9);
    Specimen smooth = specimen(Map.of("screw_out_mm_per_turn", "0"));
    deep = cutDown(smooth, 1);
    assertEquals(deep, turn(smooth, deep, -1), 1e-12);
  }

  @Test
  void aFileThatTurnsForwardStaysWhereNobodyPushesIt() throws Exception {
    Specimen specimen = specimen(Map.of());
    double deep = cutDown(specimen, 1);
    assertEquals(deep, turn(specimen, deep, 1), 1e-12);
  }

  @Test
  void leftFlutesDoTheSameTheOtherWayRound() throws Exception {
    Specimen specimen = specimen(Map.of("flutes", "left"));
    double deep = cutDown(specimen, -1);
    assertTrue(specimen.cuttingTorque(-1) > 0, "it cuts turning backward");
    assertEquals(0, specimen.cuttingTorque(1));
    assertEquals(0.15e-3, turn(specimen, deep, 1) - deep, 1e-9);
  }

  @Test
  void flutesThatDoNotReachTheWallDriveNothingOut() throws Exception {
    Specimen specimen = specimen(Map.of("size", "10", "taper", "0.02"));
    assertEquals(4e-3, turn(specimen, 4e-3, -1), 1e-12);
  }

  /** Cuts from 3 mm down to 2 mm above the foramen. */
  private static double cutDown(Specimen specimen, int way) {
    double remaining = 3e-3;
    while (remaining > 2e-3) {
      remaining = specimen.feed(remaining, 1e-6, way * 0.1);
    }
    return remaining;
  }

  /** One turn in steps of a degree, without a push. */
  private static double turn(Specimen specimen, double from, int way) {
    double remaining = from;
    for (int i = 0; i < 360; i++) {
      remaining = specimen.feed(remaining, 0, way * TURN / 360);
    }
    return remaining;
  }

  private static Specimen specimen(Map<String, String> more) throws Exception {
    Map<String, String> file = new HashMap<>(Map.of("size", "35", "taper", "0.05"));
    file.putAll(more);
    return new Specimen(Scene.of(Map.of("file", file), 3));
  }
}
