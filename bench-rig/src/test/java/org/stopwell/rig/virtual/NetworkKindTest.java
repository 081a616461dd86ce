package org.stopwell.rig.virtual;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.network.Pair;
import org.stopwell.rig.network.StepTable;
import org.stopwell.rig.network.StepTable.Step;
import org.stopwell.rig.physics.canal.MeasuringCircuit;

/** A network in place of a tooth: the same magnitudes at two frequencies, and phases of its own. */
class NetworkKindTest {
  private static final int MOST_STEPS = 55;

  private static Scene scene(String kind) throws Exception {
    return Scene.of(
        Map.of(
            "canal",
            Map.of("kind", kind),
            "fluid",
            Map.of("level_mm", "12"),
            "front_end",
            Map.of("frequency_1_hz", "500", "frequency_2_hz", "8000", "stray_pf", "1")),
        1);
  }

  private static double size(MeasuringCircuit circuit, int k) {
    return Math.hypot(circuit.ohmsRe(k), circuit.ohmsIm(k));
  }

  private static double phase(MeasuringCircuit circuit, int k) {
    return Math.toDegrees(Math.atan2(circuit.ohmsIm(k), circuit.ohmsRe(k)));
  }

  @Test
  void it_shows_the_magnitudes_of_the_tooth_at_every_depth() throws Exception {
    Specimen tooth = new Specimen(scene("tooth"));
    Specimen network = new Specimen(scene("network"));
    double phases = 0;
    for (int microns = 11_000; microns >= -2_000; microns -= 130) {
      MeasuringCircuit wanted = tooth.at(microns * 1e-6);
      MeasuringCircuit made = network.at(microns * 1e-6);
      for (int k = 0; k < 2; k++) {
        // The table has a place each 50 µm: the rest is the bend of the curve between two of them.
        assertEquals(1, size(made, k) / size(wanted, k), 0.002, microns + " µm, frequency " + k);
      }
      phases = Math.max(phases, Math.abs(phase(made, 1) - phase(wanted, 1)));
    }
    assertTrue(phases > 20, "phases are its own: " + phases + "° apart at most");
  }

  @Test
  void above_the_fluid_it_is_open_and_nothing_holds_the_file() throws Exception {
    Specimen network = new Specimen(scene("network"));
    assertTrue(size(network.at(14e-3), 0) > 1e8);
    assertEquals(0, network.level());
    assertEquals(0, network.friction(1e-3));
  }

  @Test
  void thinned_to_what_the_canal_board_takes_it_is_nearly_the_same() throws Exception {
    StepTable all = ToothSteps.of(scene("network"));
    StepTable thin = all.thinned(MOST_STEPS, 2 * Math.PI * 8_000);
    assertEquals(MOST_STEPS, thin.steps().size());
    double worst = 0;
    for (Step step : all.steps()) {
      Pair drawn = thin.at(step.remaining());
      worst = Math.max(worst, Math.abs(drawn.ohms() / step.pair().ohms() - 1));
      worst = Math.max(worst, Math.abs(admittance(drawn) / admittance(step.pair()) - 1));
    }
    assertTrue(worst < 0.003, "off by " + worst);
    assertEquals(all.steps().get(0), thin.steps().get(0));
    assertEquals(Pair.OPEN, thin.at(13e-3));
  }

  private static double admittance(Pair pair) {
    return Math.hypot(1 / pair.ohms(), 2 * Math.PI * 8_000 * pair.farads());
  }
}
