package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.virtual.Specimen;

/** The solver against ngspice: the same networks as netlists. */
class SpiceTest {
  private static final int CANALS = 60;
  private static final long SEED = 20_260_101;

  @TempDir Path directory;

  @Test
  void sixty_random_canals_at_four_frequencies_agree_with_ngspice() throws Exception {
    SpiceComparison comparison = new SpiceComparison(directory);
    RandomStream random = RandomStream.of(SEED, "places");
    for (int i = 0; i < CANALS; i++) {
      Fill fill = Fill.values()[1 + i % 3];
      Scene scene = new Population(SEED).member(i, fill, SpiceComparison.frontEnd());
      double remaining = random.nextBetween(-1.5, 9) * 1e-3;
      ToothCircuit circuit = (ToothCircuit) new Specimen(scene).at(remaining);
      comparison.add(
          circuit, (net, canal, f, hertz) -> SpiceNetlist.append(net, canal, circuit, f, hertz));
    }
    assertEquals(CANALS * SpiceComparison.HERTZ.length, comparison.agree(), "seed " + SEED);
  }
}
