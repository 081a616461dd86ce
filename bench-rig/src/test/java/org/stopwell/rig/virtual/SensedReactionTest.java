package org.stopwell.rig.virtual;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.board.EmulatedBench;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.device.Watched;

/** The simulated benches feed a device by the rotation that their sensor shows. */
class SensedReactionTest {
  private static final long STEP_NS = 20_000_000;
  private static final double MILLI_DEGREES_PER_SAMPLE_AND_RPM = 3;

  @Test
  void aStopAndAReversalAreSensedWithinTwoMilliseconds() {
    SensedTurn turn = new SensedTurn();
    double angle = 0;
    for (int i = 0; i < 20; i++) {
      angle += 300 * MILLI_DEGREES_PER_SAMPLE_AND_RPM;
      turn.sample(angle);
    }
    assertEquals(1, turn.way());
    for (int i = 0; i < 4; i++) {
      turn.sample(angle);
    }
    assertEquals(0, turn.way());
    for (int i = 0; i < 20; i++) {
      angle += 300 * MILLI_DEGREES_PER_SAMPLE_AND_RPM;
      turn.sample(angle);
    }
    for (int i = 0; i < 4; i++) {
      angle -= 300 * MILLI_DEGREES_PER_SAMPLE_AND_RPM;
      turn.sample(angle);
    }
    assertTrue(turn.way() <= 0);
  }

  /** One trial over the wire, and the feed as the shank scale shows it. */
  @ParameterizedTest
  @CsvSource({"0, 2", "100, 0.5", "250, 2"})
  void theFeedEndsItsReactionTimeAfterTheSensedStop(int reactionMs, String feed) throws Exception {
    Scene scene =
        Scene.of(
            Map.of(
                "canal",
                Map.of("kind", "resistors", "ohm_per_mm", "3000", "length_mm", "5"),
                "hand",
                Map.of(
                    "motion",
                    "steady",
                    "feed_mm_per_s",
                    feed,
                    "tremor_um",
                    "0",
                    "start_above_mm",
                    "0.2",
                    "passive_mm",
                    "3",
                    "reaction_ms",
                    Integer.toString(reactionMs))),
            3);
    List<Watched> seen = new ArrayList<>();
    try (Bench bench = EmulatedBench.lockstep(STEP_NS)) {
      bench.open();
      DeviceWatch watch = bench.deviceWatch().orElseThrow();
      watch.attach(new ClampedDevice("twin-coast", "u1", "s", 500, "full"));
      bench.mount(scene);
      ControllerInput in = new ControllerInput();
      for (long nowNs = STEP_NS; nowNs < 13_000_000_000L; nowNs += STEP_NS) {
        bench.exchange(nowNs, new ControllerOutput(), in);
        watch.drain(seen);
      }
    }
    SensedTurn turn = new SensedTurn();
    int stopped = 0;
    for (int i = 0; i < seen.size(); i++) {
      boolean turned = turn.way() == 1;
      turn.sample((double) seen.get(i).angleMilliDegrees());
      stopped = turned && turn.way() != 1 ? i : stopped;
    }
    double micronsPerMs = Double.parseDouble(feed);
    double speed = mean(seen, stopped - 100, stopped) - mean(seen, stopped - 300, stopped - 200);
    assertEquals(micronsPerMs * 100, speed, 0.02 * micronsPerMs * 100, "feed over 0.1 s");
    double rest = mean(seen, seen.size() - 400, seen.size());
    double feedEnds = (rest - mean(seen, stopped - 100, stopped)) / micronsPerMs - 25;
    assertEquals(reactionMs, feedEnds, 2, "ms from the sensed stop");
  }

  private static double mean(List<Watched> seen, int from, int to) {
    return seen.subList(from, to).stream().mapToInt(Watched::shankMicrons).average().orElseThrow();
  }
}
