package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.SettingsException;

/** An outside locator: a display with steps that gives a few values per second, or no contact. */
class LocatorTest {
  private static final long MS = TestBench.MS;

  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private final StopController controller = controller(100, 10, "1");
  private final int stepMicrons = 100;
  private long updateNs = 100 * MS;
  private long nowNs;
  private double remaining = 20_000;
  private double feed;
  private boolean contact;

  @Test
  void aDisplayWithStepsIsFollowedToTheStandoff() {
    started();
    feed = 1_000;
    while (out.drive.turns()) {
      step();
      assertEquals(Trust.SURE, out.trust, () -> out.cause + " at " + remaining);
    }
    assertEquals(Reason.STANDOFF_REACHED, out.reason);
    assertTrue(remaining - 150 >= 500, "150 ms at 1 mm/s after the decision at " + remaining);
    assertTrue(remaining - 150 <= 500 + 50 + 100, "half a step and one update at " + remaining);
  }

  @Test
  void theStopComesFromTheAgeOfTheValueWhenNoNewOneComes() {
    started();
    feed = 1_000;
    while (in.distanceMicrons > 800) {
      step();
    }
    assertTrue(out.drive.turns());
    updateNs = Long.MAX_VALUE / 2;
    while (out.drive.turns()) {
      step();
    }
    assertEquals(Reason.STANDOFF_REACHED, out.reason);
    assertTrue(remaining - 150 >= 500, "decided at " + remaining);
  }

  @Test
  void aFileThatGoesSlowlyIsNotFrozenBetweenTwoValues() {
    started();
    feed = 110;
    for (int ms = 0; ms < 10_000; ms++) {
      step();
      assertEquals(Cause.NO_CAUSE, out.cause);
    }
    assertEquals(State.TURNING, out.state);
  }

  @Test
  void aDisplayThatHangsWhileTheFileTurnsIsFrozenAndNotBefore() {
    started();
    int ms = 0;
    while (out.drive.turns() && ms < 5_000) {
      step();
      ms++;
    }
    assertEquals(Cause.FROZEN, out.cause);
    // 0.1 mm at 0.1 mm/s, one update, 250 ms of budget, less what it has turned at the start
    assertTrue(ms > 1_000 - 400 && ms <= 1_350, "after " + ms + " ms");
  }

  @Test
  void noContactIsAnOpenCircuitAndTheFileIsOutOfTheCanal() {
    started();
    contact = false;
    run(300);
    assertEquals(Cause.OPEN, out.cause);
    assertEquals(Trust.NONE, out.trust);
    assertFalse(out.readingPresent);
    assertEquals(State.PARKED, out.state);
    contact = true;
    run(900);
    assertEquals(State.PARKED, out.state, "contact alone does not start the motor");
    contact = false;
    in.demand = false;
    run(300);
    contact = true;
    in.demand = true;
    run(900);
    assertEquals(State.TURNING, out.state);
  }

  @Test
  void aLocatorThatSaysNothingAtAllIsStale() {
    started();
    updateNs = Long.MAX_VALUE / 2;
    run(200);
    assertEquals(Reason.SIGNAL_STALE, out.reason);
  }

  @Test
  void stepsUpdatesAndFeedThatLetTheFilePassTheForamenAreRefused() {
    assertEquals(
        List.of(
            "stages.length.standoff_mm: 0.5 mm is below the over-travel that the locator allows,"
                + " 0.6 mm: sense.locator_step_mm 0.1 mm and sense.locator_feed_mm_s 1 mm/s over"
                + " sense.locator_rate_hz 2 Hz; feed slower, raise the standoff, or use a locator"
                + " with finer steps or more values per second"),
        faults(settings(100, 2, "1")));
    assertEquals(List.of(), faults(settings(100, 2, "0.8")));
  }

  @Test
  void anAgeBelowOneAndAHalfUpdatesIsRefused() {
    Map<String, Map<String, Object>> settings = settings(100, 2, "0.5");
    settings.put("guard", Map.of());
    assertEquals(
        List.of(
            "guard.signal_age_ms: 60 ms is below one and a half updates of the locator at"
                + " sense.locator_rate_hz 2 Hz; write at least 750 ms"),
        faults(settings));
  }

  @Test
  void aLocatorWithoutItsStepAndRateIsRefused() {
    Map<String, Map<String, Object>> settings = settings(100, 10, "1");
    settings.put("sense", Map.of("policy", "locator"));
    List<String> faults = faults(settings);
    assertEquals(2, faults.size());
    assertTrue(faults.get(0).startsWith("sense.locator_step_mm: missing; sense.policy locator"));
    assertTrue(faults.get(1).startsWith("sense.locator_rate_hz: missing; sense.policy locator"));
  }

  @Test
  void coastIsNotLearnedFromADisplay() {
    Map<String, Map<String, Object>> settings = settings(100, 10, "1");
    settings.put("stages.length", Map.of("learn_coast", true));
    assertEquals(1, faults(settings).size());
    started();
    feed = 1_000;
    while (out.drive.turns()) {
      step();
    }
    feed = 0;
    run(2_000);
    assertEquals(150 * MS, controller.coastNs());
  }

  private void started() {
    run(500);
    assertEquals(State.PARKED, out.state);
    contact = true;
    remaining = 4_030;
    run(700);
    assertEquals(State.TURNING, out.state, () -> out.reason + " " + out.cause);
  }

  private void run(int ms) {
    for (int i = 0; i < ms; i++) {
      step();
    }
  }

  private void step() {
    nowNs += MS;
    remaining -= feed / 1_000;
    if (nowNs % updateNs == 0) {
      in.sampleSequence++;
      in.sampleTimeNs = nowNs;
      in.positionKind = contact ? PositionKind.DISTANCE : PositionKind.NO_CONTACT;
      in.distanceMicrons = contact ? (int) Math.rint(remaining / stepMicrons) * stepMicrons : 0;
    }
    controller.step(nowNs, in, out);
    in.speedMilliRpm = out.drive.turns() ? out.speedMilliRpm : 0;
  }

  private static StopController controller(int stepMicrons, int hertz, String feed) {
    try {
      return new StopController(
          ControllerSettings.of(settings(stepMicrons, hertz, feed), Calibration.NONE));
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }

  private static List<String> faults(Map<String, Map<String, Object>> settings) {
    try {
      ControllerSettings.of(settings, Calibration.NONE);
      return List.of();
    } catch (SettingsException e) {
      return e.faults().stream().map(Fault::message).toList();
    }
  }

  private static Map<String, Map<String, Object>> settings(int step, int hertz, String feed) {
    Map<String, Map<String, Object>> all = new LinkedHashMap<>(TestBench.settings());
    all.put(
        "sense",
        Map.of(
            "policy",
            "locator",
            "locator_step_mm",
            step / 1000.0,
            "locator_rate_hz",
            hertz,
            "locator_feed_mm_s",
            feed,
            "locator_error_mm",
            "0.2",
            "distance_noise_mm",
            "0.001"));
    all.put("guard", Map.of("signal_age_ms", Math.max(60, 1500 / hertz)));
    return all;
  }
}
