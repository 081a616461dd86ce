package org.stopwell.rig.calibration;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.settings.Calibration;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.calibration.ReferenceSweep.Feature;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.virtual.Specimen;

class ReferenceSweepTest {
  @Test
  void a_ratio_curve_rises_in_both_columns() throws Exception {
    Calibration curve =
        new ReferenceSweep(Scene.of(Map.of(), 0), Feature.RATIO).curve(-500, 4000, 100);

    assertEquals(46, curve.points().size());
    List<Calibration.Point> points = curve.points();
    for (int i = 1; i < points.size(); i++) {
      assertTrue(points.get(i).feature() > points.get(i - 1).feature());
      assertEquals(100, points.get(i).remainingMicrons() - points.get(i - 1).remainingMicrons());
    }
  }

  @Test
  void a_resistor_network_gives_its_own_straight_line() throws Exception {
    Scene scene = Scene.of(Map.of("canal", Map.of("kind", "resistors")), 0);
    ReferenceSweep sweep = new ReferenceSweep(scene, Feature.RESISTANCE);

    assertEquals(6_500_000, (double) sweep.at(0), 100);
    assertEquals(8_000_000, (double) sweep.at(500), 100);
    assertEquals(5_000_000, (double) sweep.at(-500), 100);
  }

  @Test
  void a_ratio_is_that_of_the_highest_to_the_lowest_frequency_in_use() throws Exception {
    Scene scene = Scene.of(Map.of("front_end", Map.of("frequency_3_hz", "9000")), 0);
    MeasuringCircuit circuit = new Specimen(scene).at(1e-3);
    double low = Math.hypot(circuit.ohmsRe(0), circuit.ohmsIm(0));
    double high = Math.hypot(circuit.ohmsRe(2), circuit.ohmsIm(2));

    assertEquals(1e6 * high / low, (double) new ReferenceSweep(scene, Feature.RATIO).at(1_000), 1);
  }

  @Test
  void a_ratio_that_cannot_rise_is_refused() throws Exception {
    Scene pure = Scene.of(Map.of("canal", Map.of("kind", "resistors")), 0);

    assertThrows(
        IllegalArgumentException.class,
        () -> new ReferenceSweep(pure, Feature.RATIO).curve(500, 4000, 100));
  }
}
