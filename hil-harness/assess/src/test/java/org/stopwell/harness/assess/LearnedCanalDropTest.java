package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.sense.LearnedCanal;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;

/** What was learned about a canal must do no harm where it does not belong. */
class LearnedCanalDropTest {
  private static final long SEED = 31_339;
  private static final int CANALS = 24;

  private final Population population = new Population(SEED);
  private int within;
  private int stopped;
  private int dropped;
  private int recalled;
  private int sureAndWrong;

  /** A later stage, brimful, in a canal other than the learned one by some values. */
  private void shapeAfterwards(long learnedIn, long index, Map<String, Map<String, String>> other)
      throws Exception {
    Scene before = population.member(learnedIn, Fill.HALF_WET, ReadableCanals.of("tooth"));
    Visit first = new Visit(Estimator.APPROACH.settings(before, Map.of()));
    first.work(before, Stage.LENGTH);
    Optional<LearnedCanal> learned = first.learned();
    Map<String, Map<String, String>> all = ReadableCanals.of("tooth");
    other.forEach(
        (section, values) -> {
          Map<String, String> own = new HashMap<>(all.getOrDefault(section, Map.of()));
          own.putAll(values);
          all.put(section, own);
        });
    Scene scene = population.member(index, Fill.BRIMFUL, all);
    Visit second = new Visit(Estimator.APPROACH.settings(scene, Map.of()));
    if (learned.isPresent()) {
      recalled++;
      assertTrue(second.recall(learned.get()));
    }
    VisitOutcome outcome = second.work(scene, Stage.SHAPE);
    sureAndWrong += outcome.sureAndWrong() ? 1 : 0;
    if (outcome.stopped()) {
      stopped++;
      within += Math.abs(outcome.errorMicrons()) <= 500 ? 1 : 0;
    }
    dropped += learned.isPresent() && second.learned().isEmpty() ? 1 : 0;
  }

  private void tell(String what) {
    System.out.println(
        what
            + ", seed "
            + SEED
            + " (simulated): "
            + recalled
            + " learned, "
            + dropped
            + " dropped, "
            + stopped
            + " stopped, "
            + within
            + " within 0.5 mm, "
            + sureAndWrong
            + " sure and wrong");
    assertTrue(recalled > CANALS / 2, "most canals are learned");
    assertEquals(0, sureAndWrong);
  }

  @Test
  void anotherCanalIsNeverSureAndWrong() throws Exception {
    for (int i = 0; i < CANALS; i++) {
      shapeAfterwards(i + 1_000, i, Map.of());
    }
    tell("another canal");
    assertTrue(within >= 0.6 * stopped);
  }

  @Test
  void aMuchLargerShapeIsNeverSureAndWrong() throws Exception {
    for (int i = 0; i < CANALS; i++) {
      shapeAfterwards(
          i, i, Map.of("canal", Map.of("constriction_diameter_mm", "0.400", "taper", "0.08")));
    }
    tell("much larger shape");
    assertTrue(within >= 0.6 * stopped);
  }

  @Test
  void anotherIrrigantIsNeverSureAndWrong() throws Exception {
    for (int i = 0; i < CANALS; i++) {
      shapeAfterwards(i, i, Map.of("fluid", Map.of("conductivity_s_per_m", "6.0000")));
    }
    tell("another irrigant");
    // three times the conductivity of the learned visit
    assertTrue(within >= 0.5 * stopped);
  }
}
