package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.LinkedHashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.settings.Calibration;

class MonitorTest {
  private static final Map<String, Object> FROZEN_LATE = Map.of("frozen_ms", 2_000);

  /** The filter is made so slow that the controller believes in the place where it was. */
  @Test
  void theRawSignalStopsWhatASlowFilterLetsPass() {
    Map<String, Map<String, Object>> settings = new LinkedHashMap<>(TestBench.settings());
    settings.put(
        "sense", Map.of("feed_change_mm_s", "0.01", "stroke_mm", 0, "distance_noise_mm", 1));
    settings.put("stages.length", Map.of("tolerance_mm", 5));
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
    assertTrue(Explain.event(bench.lastEvent()).startsWith("Stopped by the stop monitor"));
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

  /** A detector that is too slow leaves the file to the monitor: 2 s are 1 mm of this feed. */
  @Test
  void aHighChannelThatFreezesIsStoppedByTheMagnitudeAtTheLowFrequency() {
    TestBench bench = new TestBench(slowDetector("ratio")).started();
    bench.feedMicronsPerSecond = 500;
    while (bench.remainingMicrons > 620) {
      bench.step();
    }
    bench.frozenHigh = true;
    stopsByTheMonitor(bench, 200, 30);
  }

  @Test
  void aResistanceThatFreezesIsStoppedByTheAxis() {
    TestBench bench = new TestBench(slowDetector("resistance"), resistances());
    bench.axis = true;
    bench.started();
    bench.feedMicronsPerSecond = 500;
    while (bench.remainingMicrons > 620) {
      bench.step();
    }
    bench.frozenLow = true;
    stopsByTheMonitor(bench, 100, 150);
  }

  @Test
  void aLocatorThatHangsIsStoppedByTheAxis() {
    CanalBench bench = new CanalBench(CanalBench.Policy.LOCATOR, Map.of(), FROZEN_LATE);
    bench.axis = true;
    bench.open = true;
    bench.remainingMicrons = 7_500;
    bench.run(300);
    bench.open = false;
    bench.feedMicronsPerSecond = 800;
    while (bench.remainingMicrons > 900) {
      bench.step();
    }
    bench.driftMicronsPerSecond = 800; // what is shown stays where it is
    stopsByTheMonitor(bench, 100, 150);
  }

  @Test
  void aResistanceThatFreezesWithoutAnAxisHasNoMonitor() {
    TestBench bench = new TestBench(slowDetector("resistance"), resistances()).started();
    bench.feedMicronsPerSecond = 500;
    while (bench.remainingMicrons > 620) {
      bench.step();
    }
    bench.frozenLow = true;
    bench.run(1_500);
    assertTrue(bench.out.drive.turns());
    assertEquals(0, bench.controller.monitorStops());
  }

  @ParameterizedTest
  @CsvSource({"0.7, 0", "1.4, 0", "1, -2000", "1, 2000"})
  void aCanalUnlikeTheCalibratedOneIsNotStoppedBeforeTheStandoff(double share, double bodyOhms) {
    TestBench bench = new TestBench(TestBench.settings());
    bench.axis = true;
    bench.canalShare = share;
    bench.bodyOhms = bodyOhms;
    bench.started();
    bench.feedUntilStateChanges(500);
    bench.feedUntilStateChanges(500);
    assertEquals(State.HOLDING, bench.out.state);
    assertEquals(Reason.STANDOFF_REACHED, bench.out.reason);
    assertEquals(0, bench.controller.monitorStops());
  }

  @ParameterizedTest
  @CsvSource({"0.7, 0", "1.4, 0", "1, -2000", "1, 2000"})
  void aCanalUnlikeTheCalibratedOneIsMonitoredAllTheSame(double share, double bodyOhms) {
    TestBench bench = new TestBench(slowDetector("ratio"));
    bench.canalShare = share;
    bench.bodyOhms = bodyOhms;
    bench.started();
    bench.feedMicronsPerSecond = 500;
    while (bench.remainingMicrons > 620) {
      bench.step();
    }
    bench.frozenHigh = true;
    stopsByTheMonitor(bench, 200, 200);
  }

  private static void stopsByTheMonitor(TestBench bench, double microns, double within) {
    int ms = 0;
    while (bench.out.drive.turns() && ms++ < 1_900) {
      bench.step();
    }
    assertEquals(State.HOLDING, bench.out.state);
    assertEquals(Reason.MONITOR_STOP, bench.out.reason);
    assertEquals(1, bench.controller.monitorStops());
    assertEquals(microns, bench.remainingMicrons, within);
  }

  private static Map<String, Map<String, Object>> slowDetector(String policy) {
    Map<String, Map<String, Object>> settings = new LinkedHashMap<>(TestBench.settings());
    settings.put("sense", Map.of("policy", policy));
    settings.put("guard", FROZEN_LATE);
    return settings;
  }

  /** The magnitudes of the bench as the curve of a resistance. */
  private static Calibration resistances() {
    return new Calibration(
        TestBench.curve().points().stream()
            .map(p -> new Calibration.Point(p.lowMilliOhms(), p.remainingMicrons(), 0, 100))
            .toList());
  }
}
