package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Stage;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;

/** The weights in the core belong to the features, the frequencies and the models of today. */
class ShippedWeightsTest {
  private static void stops(String kind, double stop, double share, double rmsMm) throws Exception {
    int canals = 120;
    Population population = new Population(31_337);
    Map<String, Map<String, String>> all = ReadableCanals.of(kind);
    int near = 0;
    int sureAndWrong = 0;
    double squares = 0;
    int stopped = 0;
    for (int i = 0; i < canals; i++) {
      Scene scene = population.member(i, Fill.HALF_WET, all);
      Visit visit = new Visit(Estimator.APPROACH.settings(scene, Map.of()));
      VisitOutcome outcome = visit.work(scene, Stage.LENGTH);
      sureAndWrong += outcome.sureAndWrong() ? 1 : 0;
      if (outcome.stopped()) {
        stopped++;
        near += Math.abs(outcome.errorMicrons()) <= 500 ? 1 : 0;
        squares += 1e-6 * outcome.errorMicrons() * outcome.errorMicrons();
      }
    }
    double rms = StrictMath.sqrt(squares / stopped);
    System.out.println(
        kind
            + ", seed 31337: "
            + stopped
            + " stopped of "
            + canals
            + ", "
            + near
            + " near, rms "
            + rms
            + " mm (simulated)");
    assertTrue(stopped >= stop * canals);
    assertTrue(near >= share * stopped);
    assertTrue(rms < rmsMm);
    assertEquals(0, sureAndWrong);
  }

  @Test
  void filesStopWhereTheyShouldInCanalsThatWereNotLearnedFrom() throws Exception {
    stops("tooth", 0.8, 0.75, 0.65);
  }

  @Test
  void filesStopWhereTheyShouldInCanalsByAnotherNetwork() throws Exception {
    stops("lumped", 0.7, 0.7, 0.55);
  }
}
