package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.LinkedHashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;

/** A motor that does not do what it is told. */
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
