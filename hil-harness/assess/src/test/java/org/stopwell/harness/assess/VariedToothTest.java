package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.random.RandomStream;

class VariedToothTest {
  /**
   * A lateral canal that the file shuts leads around it until the tip has passed, and then no more.
   */
  @Test
  void aFileMayShutALateralCanalThatItPasses() throws Exception {
    Scene scene = new Population(7).member(1, Population.Fill.BRIMFUL, Training.FREQUENCIES);
    VariedNetwork drawn = VariedNetwork.drawn(RandomStream.of(7, "network"));
    double height = 2e-3;
    for (boolean shuts : new boolean[] {false, true}) {
      for (double mm = 3; mm > 0.5; mm -= 0.25) {
        double without = siemens(scene, lateral(drawn, height, 0, shuts), mm);
        double with = siemens(scene, lateral(drawn, height, 1e-5, shuts), mm);
        boolean open = !shuts || mm * 1e-3 >= height;
        assertEquals(open, with > without * 1.001, "at " + mm + " mm, shuts: " + shuts);
      }
    }
  }

  /** Half of them have no lateral canal, a quarter one that is shut, a quarter one that is not. */
  @Test
  void lateralCanalsComeInThreeKinds() {
    RandomStream random = RandomStream.of(7, "networks");
    int none = 0;
    int shut = 0;
    int all = 4000;
    for (int i = 0; i < all; i++) {
      VariedNetwork drawn = VariedNetwork.drawn(random);
      none += drawn.lateralSiemens() == 0 ? 1 : 0;
      shut += drawn.lateralSiemens() > 0 && drawn.lateralShuts() ? 1 : 0;
    }
    // four standard deviations of a count
    assertEquals(0.5, (double) none / all, 4 * StrictMath.sqrt(0.25 / all));
    assertEquals(0.25, (double) shut / all, 4 * StrictMath.sqrt(0.1875 / all));
  }

  private static VariedNetwork lateral(
      VariedNetwork n, double height, double siemens, boolean shuts) {
    return new VariedNetwork(
        6,
        false,
        1,
        n.exponentShift(),
        n.transfer(),
        n.wallFarads(),
        n.unevenness(),
        height,
        siemens,
        shuts,
        n.split(),
        n.slower(),
        n.faster(),
        n.bend(),
        n.leakGrowth(),
        n.leakCapacity(),
        n.leakCorner(),
        n.leakAtShank());
  }

  private static double siemens(Scene scene, VariedNetwork network, double mm) {
    MeasuringCircuit circuit = new VariedTooth(scene, network).at(mm * 1e-3);
    return 1 / StrictMath.hypot(circuit.ohmsRe(1), circuit.ohmsIm(1));
  }
}
