package org.stopwell.rig.virtual;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.wire.SceneFields;

/** A simulated board plays a tooth of the field model in place of an extracted one. */
class PlayedToothTest {
  private static Scene scene(int number, String fluid, long seed) throws Exception {
    return Scene.of(
        Map.of(
            "canal",
            Map.of("kind", "tooth", "length_mm", "9.2"),
            "fluid",
            Map.of("irrigant", fluid, "level_mm", "4.6"),
            "tooth",
            Map.of("number", String.valueOf(number))),
        seed);
  }

  private static double ohms(Scene scene) {
    MeasuringCircuit circuit = new Specimen(scene).at(1e-3);
    return circuit.ohmsRe(0);
  }

  @Test
  void aToothIsTheSameInEveryTrialAndNoOther() throws Exception {
    double first = ohms(scene(7, "saline_0.9", 1));
    assertEquals(first, ohms(scene(7, "saline_0.9", 2)));
    assertNotEquals(first, ohms(scene(8, "saline_0.9", 1)));
    assertNotEquals(first, ohms(scene(7, "sodium_hypochlorite_5.25", 1)));
    assertNotEquals(first, ohms(scene(0, "saline_0.9", 1)), "the model of the scene itself");
    assertEquals(9.2e-3, new Specimen(scene(7, "saline_0.9", 1)).length());
  }

  /** A named fluid and its default conductivity came over the wire together and were refused. */
  @Test
  void theToothAndItsFluidGoOverTheWire() throws Exception {
    Scene sent = scene(7, "sodium_hypochlorite_2.5", 3);
    assertEquals(ohms(sent), ohms(SceneFields.scene(SceneFields.of(sent), 3)));
  }
}
