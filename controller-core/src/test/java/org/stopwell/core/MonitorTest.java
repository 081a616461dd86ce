package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.LinkedHashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;

class MonitorTest {

  /** The filter is made so slow that the controller believes in the place where it was. */
  @Test
  void theRawSignalStopsWhatASlowFilterLetsPass() {
    Map<String, Map<String, Object>> settings = new LinkedHashMap<>(TestBench.settings());
    settings.put(
        "sense", Map.of("feed_change_mm_s", "0.01", "stroke_mm", 0, "distance_noise_mm", 1));
    TestBench bench = new TestBench(settings).started();
    bench.run(20_000);
    bench.feedMicronsPerSecond = 2_000;
    int ms = 0;
    while (bench.out.drive.turns() && ms++ < 3_000) {
      bench.step();
    }
    assertEquals(State.HOLDING, bench.out.state);
    assertEquals(Reason.MONITOR_STOP, bench.out.reason);
    assertEquals(1, bench.controller.monitorStops());
    assertEquals(200, bench.remainingMicrons, 25, "0.3 mm beyond the standoff, two samples");
    assertTrue(Explain.event(bench.lastEvent()).startsWith("Stopped by the independent monitor"));
  }

  @Test
  void aControllerThatStopsByItselfIsNotDisagreedWith() {
    TestBench bench = new TestBench().started();
    bench.feedUntilStateChanges(1_000);
    bench.feedUntilStateChanges(1_000);
    bench.remainingMicrons = 0;
    bench.run(1_000);
    assertEquals(0, bench.controller.monitorStops());
  }

  @Test
  void aStageWithoutAnApicalReactionIsNotMonitored() {
    TestBench bench = new TestBench(TestBench.length("apical", "none")).started();
    bench.feedMicronsPerSecond = 1_000;
    bench.run(4_000);
    assertEquals(State.TURNING, bench.out.state);
  }
}
