package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.virtual.Plant;

/**
 * A file is refused when the controller refuses it, not when the hand gave up or time was short.
 */
class PatientHandTest {
  private static final long SEED = 555_001;

  private static Scene member(long index, Fill fill) throws Exception {
    Map<String, Map<String, String>> all = ReadableCanals.of("tooth");
    all.put("hand", Map.of("start_above_mm", "6"));
    return new Population(SEED).member(index, fill, all);
  }

  private static VisitOutcome work(Scene scene) throws Exception {
    return new Visit(Estimator.APPROACH.settings(scene, Map.of())).work(scene, Stage.LENGTH);
  }

  /**
   * Pecking hands whose first stroke up lifts the tip out of the fluid that it has just touched.
   */
  @ParameterizedTest
  @ValueSource(longs = {1, 10, 18, 30})
  void aPeckingHandThatLiftsTheTipOutComesAgainAndReachesTheStandoff(long index) throws Exception {
    VisitOutcome outcome = work(member(index, Fill.HALF_WET));
    assertTrue(outcome.pecking(), "seed " + SEED + ", member " + index);
    assertTrue(outcome.stopped(), "seed " + SEED + ", member " + index);
  }

  /**
   * The motor does not start although the file is in the canal: it must have been out of the fluid
   * for the whole dwell.
   */
  @ParameterizedTest
  @ValueSource(longs = {1, 10, 18, 30})
  void theMotorStartsAgainOnlyAfterTheFileWasOutOfTheFluidForItsDwell(long index) throws Exception {
    Scene scene = member(index, Fill.HALF_WET);
    var settings = Estimator.APPROACH.settings(scene, Map.of());
    StopController controller = new StopController(settings);
    long dwellNs = settings.section("sense").get(SenseParameters.LEAVE_DWELL);
    Plant plant = new Plant(scene);
    ControllerInput in = new ControllerInput();
    ControllerOutput out = new ControllerOutput();
    Truth truth = new Truth();
    boolean turned = false;
    int starts = 0;
    long outNs = 0;
    long longestOutNs = 0;
    for (long now = Plant.TICK_NS; now < 90_000_000_000L && starts < 2; now += Plant.TICK_NS) {
      plant.advance(now, out);
      plant.read(in);
      in.stage = Stage.LENGTH;
      controller.step(now, in, out);
      plant.truth(truth);
      outNs = truth.remainingMicrons > truth.fluidLevelMicrons ? outNs + Plant.TICK_NS : 0;
      longestOutNs = turned ? outNs : Math.max(longestOutNs, outNs);
      starts += out.drive.turns() && !turned ? 1 : 0;
      turned = out.drive.turns();
    }
    assertEquals(2, starts, "seed " + SEED + ", member " + index);
    assertTrue(longestOutNs >= dwellNs, "out of the fluid for " + longestOutNs + " ns");
  }

  /** A hand of 0.15 mm/s takes longer than 90 s for 16 mm. */
  @Test
  void aSlowHandIsWaitedFor() throws Exception {
    Map<String, Map<String, String>> all = ReadableCanals.of("tooth");
    all.put(
        "hand",
        Map.of(
            "start_above_mm", "6", "motion", "steady", "feed_mm_per_s", "0.15", "tremor_um", "15"));
    int late = 0;
    for (int i = 0; i < 4; i++) {
      VisitOutcome outcome = work(new Population(SEED).member(i, Fill.BRIMFUL, all));
      late += outcome.stopped() && outcome.stopNs() > 90_000_000_000L ? 1 : 0;
    }
    assertTrue(late > 0, "seed " + SEED);
  }
}
