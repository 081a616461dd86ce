package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Stage;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;

/** The weights in the core belong to the features, the frequencies and the models of today. */
class ShippedWeightsTest {
  private static final int CANALS = 60;

  @Test
  void filesStopWhereTheyShouldInCanalsThatWereNotLearnedFrom() throws Exception {
    Population population = new Population(31_337);
    int near = 0;
    int falselySure = 0;
    double squares = 0;
    int stopped = 0;
    for (int i = 0; i < CANALS; i++) {
      Scene scene = population.member(i, Fill.HALF_WET, Training.FREQUENCIES);
      Visit visit = new Visit(Estimator.APPROACH.settings(scene, Map.of()));
      Outcome outcome = visit.work(scene, Stage.LENGTH);
      falselySure += outcome.falselySure() ? 1 : 0;
      if (outcome.stopped()) {
        stopped++;
        near += Math.abs(outcome.errorMicrons()) <= 500 ? 1 : 0;
        squares += 1e-6 * outcome.errorMicrons() * outcome.errorMicrons();
      }
    }
    double rms = StrictMath.sqrt(squares / stopped);
    System.out.println(
        "seed 31337: " + stopped + " stopped, " + near + " near, rms " + rms + " mm (simulated)");
    assertTrue(stopped >= 0.8 * CANALS);
    assertTrue(near >= 0.8 * stopped);
    assertTrue(rms < 0.45);
    assertTrue(falselySure == 0);
  }
}
