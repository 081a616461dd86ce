package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.frame.State;

/** A motor that does not follow its commands. */
class MotorTest {

  @Test
  void aFileThatTurnsTheWrongWayLocks() {
    TestBench bench = new TestBench().started();
    int ms = runWithSpeed(bench, -200_000, 200);
    assertEquals(Reason.WRONG_DIRECTION, bench.out.reason);
    assertEquals(State.LOCKED, bench.out.state);
    assertEquals(100, ms, 2);
  }

  @Test
  void aFileThatStandsLocks() {
    TestBench bench = new TestBench().started();
    int ms = runWithSpeed(bench, 0, 600);
    assertEquals(Reason.STALLED, bench.out.reason);
    assertEquals(300, ms, 2);
  }

  @Test
  void aFileThatTurnsUnaskedLocks() {
    TestBench bench = new TestBench().started();
    bench.in.demand = false;
    bench.step();
    assertFalse(bench.out.drive.turns());
    int ms = runWithSpeed(bench, 200_000, 1_000);
    assertEquals(Reason.RUNAWAY, bench.out.reason);
    assertEquals(800, ms, 2);
  }

  @Test
  void aFileThatRunsOutAfterAStopDoesNotLock() {
    TestBench bench = new TestBench().started();
    bench.in.demand = false;
    bench.step();
    for (int speed = 300_000; speed > 0; speed -= 500) {
      runWithSpeed(bench, speed, 1);
    }
    bench.run(1_000);
    assertEquals(State.HOLDING, bench.out.state);
  }

  @Test
  void aFileThatTurnsFarFasterThanCommandedLocks() {
    TestBench bench = new TestBench().started();
    int ms = runWithSpeed(bench, 900_000, 300);
    assertEquals(Reason.OVERSPEED, bench.out.reason);
    assertEquals(State.LOCKED, bench.out.state);
    assertEquals(100, ms, 2);
    assertFalse(bench.out.drive.turns());
  }

  @Test
  void aFileAtOneAndAHalfTimesTheCommandedSpeedIsNotTooFast() {
    TestBench bench = new TestBench().started();
    runWithSpeed(bench, 470_000, 1_000);
    assertEquals(State.TURNING, bench.out.state);
    assertEquals(100, runWithSpeed(bench, 471_000, 300), 2);
    assertEquals(Reason.OVERSPEED, bench.out.reason);
  }

  @Test
  void aFileThatComesAndGoesAboveTheSpeedLocksAsWell() {
    TestBench bench = new TestBench().started();
    int ms = 0;
    while (bench.out.state == State.TURNING && ms < 500) {
      ms += runWithSpeed(bench, ms % 2 == 0 ? 900_000 : 300_000, 1);
    }
    assertEquals(Reason.OVERSPEED, bench.out.reason);
    // of two milliseconds one is spent and a quarter given back
    assertEquals(100 * 2 / 0.75, ms, 4);
  }

  @Test
  void aFileThatDoesNotSlowDownOnTheApproachLocks() {
    TestBench bench = new TestBench(TestBench.length("ease_rpm", 60)).started();
    bench.feedUntilStateChanges(1_000);
    for (int ms = 0; bench.out.state == State.EASING && ms < 2_000; ms++) {
      bench.feedMicronsPerSecond = ms < 750 ? 1_000 : 0;
      runWithSpeed(bench, 300_000, 1);
    }
    assertEquals(Reason.OVERSPEED, bench.out.reason);
  }

  /** The limit falls to the command within the run-out time, not at once. */
  @Test
  void aMotorThatSlowsDownAsSlowlyAsItRunsOutIsNotTooFast() {
    TestBench bench = new TestBench(TestBench.length("ease_rpm", 60)).started();
    bench.feedUntilStateChanges(1_000);
    for (int speed = 300_000; speed > 160_000; speed -= 375) {
      bench.feedMicronsPerSecond = speed > 200_000 ? 2_000 : 0;
      runWithSpeed(bench, speed, 1);
    }
    bench.run(1_000);
    assertEquals(State.EASING, bench.out.state);
  }

  @Test
  void aSoftStartOfAFileThatStillRunsOutIsNotTooFast() {
    TestBench bench = new TestBench().started();
    bench.feedUntilStateChanges(2_000);
    bench.feedUntilStateChanges(2_000);
    assertEquals(State.HOLDING, bench.out.state);
    for (int coast = 300_000; coast > 0; coast -= 375) {
      bench.feedMicronsPerSecond = bench.out.state == State.HOLDING ? -8_000 : 0;
      runWithSpeed(bench, Math.max(coast, bench.out.speedMilliRpm), 1);
    }
    assertEquals(State.TURNING, bench.out.state);
  }

  @ParameterizedTest
  @ValueSource(strings = {"reciprocate", "forward", "backward"})
  void aMotorWithoutSpeedLoopLocksUnderEveryMotion(String motion) {
    TestBench bench = new TestBench(TestBench.length("motion", motion)).started();
    int ms = 0;
    while (bench.out.state == State.TURNING && ms < 500) {
      int sign = bench.out.drive == Drive.BACKWARD ? -1 : 1;
      ms += runWithSpeed(bench, sign * 3 * bench.out.speedMilliRpm, 1);
    }
    assertEquals(Reason.OVERSPEED, bench.out.reason);
    assertEquals(100, ms, 2);
  }

  @Test
  void anEncoderThatIsNoisyByHalfTheSpeedDoesNotLock() {
    Random noise = new Random(5);
    TestBench bench = new TestBench().started();
    for (int ms = 0; ms < 20_000; ms++) {
      runWithSpeed(bench, (int) (300_000 * (1 + 0.5 * noise.nextGaussian())), 1);
    }
    assertEquals(State.TURNING, bench.out.state);
  }

  @Test
  void heatGathersWithTheSquareOfTheCurrentAndMustGoBeforeTheMotorTurnsAgain() {
    TestBench bench = guarded(Map.of("motor_continuous_ma", 500, "motor_heat_ms", 1_000));
    // Twice the current is four times the heat: h = 4(1 - exp(-t/1 s)) is 1 after 0.288 s.
    bench.in.insertionPresent = true;
    bench.in.insertionMicrons = 16_000;
    bench.in.currentMilliAmps = 1_000;
    int ms = 0;
    while (bench.out.state == State.TURNING) {
      bench.step();
      ms++;
    }
    assertEquals(Reason.OVERHEATED, bench.out.reason);
    assertEquals(288, ms, 3);
    bench.in.currentMilliAmps = 0;
    bench.in.insertionMicrons -= 2_000;
    // exp(-t/1 s) is 0.8 after 0.223 s.
    bench.run(218);
    assertEquals(State.HOLDING, bench.out.state);
    bench.run(10);
    assertEquals(State.TURNING, bench.out.state);
  }

  @Test
  void theContinuousCurrentIsBorneForEver() {
    TestBench bench = guarded(Map.of("motor_continuous_ma", 500, "motor_heat_ms", 1_000));
    bench.in.currentMilliAmps = 499;
    bench.run(20_000);
    assertEquals(State.TURNING, bench.out.state);
  }

  @Test
  void aDroopingSupplyHolds() {
    TestBench bench = guarded(Map.of("supply_min_v", 5));
    bench.in.supplyMilliVolts = 5_000;
    bench.run(100);
    assertEquals(State.TURNING, bench.out.state);
    bench.in.supplyMilliVolts = 4_999;
    bench.run(19);
    assertEquals(State.TURNING, bench.out.state);
    bench.run(1);
    assertEquals(Reason.SUPPLY_LOW, bench.out.reason);
  }

  @Test
  void aSpentFileHolds() {
    Map<String, Map<String, Object>> settings = new LinkedHashMap<>(TestBench.settings());
    settings.put("file", Map.of("turns_limit", 10));
    TestBench bench = new TestBench(settings).started();
    while (bench.out.state == State.TURNING) {
      bench.step();
    }
    assertEquals(Reason.FILE_SPENT, bench.out.reason);
    assertEquals(10, bench.controller.fileTurns());
    bench.remainingMicrons += 2_000;
    bench.run(1_000);
    assertEquals(State.HOLDING, bench.out.state);
  }

  private static void changeFile(TestBench bench, Stage stage) {
    bench.inCanal = false;
    bench.in.demand = false;
    bench.run(1_000);
    bench.in.stage = stage;
    bench.inCanal = true;
    bench.in.demand = true;
  }

  @Test
  void everyFileHasItsOwnTurns() {
    Map<String, Map<String, Object>> settings = new LinkedHashMap<>(TestBench.settings());
    settings.put("file", Map.of("turns_limit", 10));
    settings.put("stages.shape", Map.of());
    settings.put("stages.shape.file", Map.of("size", 30, "taper", "0.06", "turns_limit", 20));
    settings.put("stages.recheck", Map.of());
    settings.put("stages.recheck.file", Map.of("size", 30, "taper", "0.06", "turns_limit", 20));
    TestBench bench = new TestBench(settings).started();
    while (bench.out.state == State.TURNING) {
      bench.step();
    }
    assertEquals(10, bench.controller.fileTurns());
    changeFile(bench, Stage.SHAPE);
    while (bench.out.state != State.TURNING) {
      bench.step();
    }
    assertEquals(0, bench.controller.fileTurns(), "a new file");
    while (bench.out.state == State.TURNING) {
      bench.step();
    }
    assertEquals(Reason.FILE_SPENT, bench.out.reason);
    assertEquals(20, bench.controller.fileTurns());
    changeFile(bench, Stage.RECHECK);
    bench.run(1_000);
    assertEquals(State.PARKED, bench.out.state, "the same file as in shape");
    assertEquals(20, bench.controller.fileTurns());
    bench.in.stage = Stage.LENGTH;
    bench.run(1);
    assertEquals(10, bench.controller.fileTurns());
  }

  @Test
  void motionByLoadReciprocatesUnderLoadOnly() {
    TestBench bench = new TestBench(TestBench.length("motion", "by_load")).started();
    bench.in.torqueMicroNewtonMetres = 3_600;
    bench.run(51);
    assertEquals(Reason.LOAD_HIGH, bench.lastEvent().reason);
    boolean back = false;
    for (int i = 0; i < 500; i++) {
      bench.step();
      back |= bench.out.drive == Drive.BACKWARD;
    }
    assertTrue(back);
    bench.in.torqueMicroNewtonMetres = 2_000;
    bench.run(500);
    assertEquals(Reason.LOAD_HIGH, bench.lastEvent().reason, "above half of the threshold");
    bench.in.torqueMicroNewtonMetres = 1_000;
    bench.run(300);
    assertEquals(Reason.LOAD_LOW, bench.lastEvent().reason);
    for (int i = 0; i < 500; i++) {
      bench.step();
      assertEquals(Drive.FORWARD, bench.out.drive);
    }
  }

  @Test
  void aLoadAboveHalfOfTheThresholdBeginsNothing() {
    TestBench bench = new TestBench(TestBench.length("motion", "by_load")).started();
    long before = bench.controller.events().count();
    bench.in.torqueMicroNewtonMetres = 2_000;
    bench.run(1_000);
    assertEquals(before, bench.controller.events().count());
    assertEquals(Drive.FORWARD, bench.out.drive);
  }

  private static TestBench guarded(Map<String, Object> guard) {
    Map<String, Map<String, Object>> settings = new LinkedHashMap<>(TestBench.settings());
    settings.put("guard", guard);
    return new TestBench(settings).started();
  }

  /** Runs with a motor that turns as it likes; returns how long until it locked, ms. */
  private static int runWithSpeed(TestBench bench, int milliRpm, int ms) {
    for (int i = 0; i < ms; i++) {
      bench.in.speedMilliRpm = milliRpm;
      bench.step();
      if (bench.out.state == State.LOCKED) {
        return i + 1;
      }
    }
    return ms;
  }
}
