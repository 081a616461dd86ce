package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.virtual.Specimen;

class LumpedCircuitTest {
  private static final double MM = 1e-3;

  private static Specimen specimen(int i, String kind, Fill fill) throws Exception {
    return new Specimen(new Population(3).member(i, fill, Map.of("canal", Map.of("kind", kind))));
  }

  private static double size(MeasuringCircuit z, int f) {
    return Math.hypot(z.ohmsRe(f), z.ohmsIm(f));
  }

  @Test
  void it_is_another_network_of_the_same_kind_of_tooth() throws Exception {
    for (int i = 0; i < 40; i++) {
      Specimen one = specimen(i, "tooth", Fill.HALF_WET);
      Specimen other = specimen(i, "lumped", Fill.HALF_WET);
      double quotient = size(other.at(1 * MM), 0) / size(one.at(1 * MM), 0);
      assertTrue(quotient > 0.4 && quotient < 2.5, "member " + i + ": " + quotient);
      assertTrue(Math.abs(quotient - 1) > 1e-3, "member " + i + ": " + quotient);
    }
  }

  @Test
  void its_ratio_falls_towards_the_foramen_too() throws Exception {
    for (int i = 0; i < 40; i++) {
      Specimen tooth = specimen(i, "lumped", Fill.HALF_WET);
      double last = Double.POSITIVE_INFINITY;
      for (double z = 2; z >= 0; z -= 0.05) {
        MeasuringCircuit here = tooth.at(z * MM);
        double ratio = size(here, 1) / size(here, 0);
        assertTrue(ratio < last, "member " + i + " at " + z);
        last = ratio;
      }
    }
  }

  @Test
  void it_opens_out_of_the_fluid_and_leaks_when_flooded() throws Exception {
    Specimen dry = specimen(0, "lumped", Fill.DRY);
    assertTrue(size(dry.at(5 * MM), 0) > 1e6);
    Specimen halfWet = specimen(0, "lumped", Fill.HALF_WET);
    Specimen flooded = specimen(0, "lumped", Fill.FLOODED);
    assertTrue(size(flooded.at(1 * MM), 0) < 0.8 * size(halfWet.at(1 * MM), 0));
  }
}
