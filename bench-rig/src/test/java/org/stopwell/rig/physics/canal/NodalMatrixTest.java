package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Map;
import org.ejml.data.Complex_F64;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.virtual.Specimen;

class NodalMatrixTest {
  @Test
  void the_ladder_agrees_with_a_general_solver() throws Exception {
    for (int i = 0; i < 30; i++) {
      Specimen specimen =
          new Specimen(new Population(4).member(i, Fill.values()[1 + i % 3], Map.of()));
      ToothCircuit circuit = (ToothCircuit) specimen.at((5 - 0.2 * i) * 1e-3);
      for (int f = 0; f < 2; f++) {
        Complex_F64 general = NodalMatrix.impedance(circuit, f);
        double size = Math.hypot(general.real, general.imaginary);
        assertEquals(general.real, circuit.ohmsRe(f), 1e-9 * size, "member " + i);
        assertEquals(general.imaginary, circuit.ohmsIm(f), 1e-9 * size, "member " + i);
      }
    }
  }
}
