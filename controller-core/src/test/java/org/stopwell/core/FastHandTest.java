package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.State;

class FastHandTest {
  @Test
  void aFastHandIsEasedASecondBeforeTheStandoff() {
    assertEquals(500 + 3_000, whereEasingBegins(new TestBench(), 3_000), 300);
    assertEquals(500 + 2_000, whereEasingBegins(new TestBench(), 2_000), 300);
  }

  @Test
  void aSlowHandIsEasedWhereTheSettingsSay() {
    assertEquals(500 + 1_000, whereEasingBegins(new TestBench(), 500), 150);
  }

  @Test
  void withoutEasingNoHandIsEased() {
    TestBench bench = new TestBench(TestBench.length("ease_mm", 0));
    feedFrom(bench, 3_000);
    while (bench.out.state != State.HOLDING) {
      assertEquals(State.TURNING, bench.out.state);
      bench.step();
    }
  }

  /** The motor has had the time to slow down: 150 rpm are asked for at the standoff. */
  @Test
  void aFastHandIsStoppedFromASlowMotor() {
    TestBench bench = new TestBench();
    feedFrom(bench, 3_000);
    int lastMilliRpm = 0;
    while (bench.out.state != State.HOLDING) {
      lastMilliRpm = bench.out.speedMilliRpm;
      bench.step();
    }
    assertTrue(lastMilliRpm < 185_000, lastMilliRpm + " milli-rpm");
  }

  private static double whereEasingBegins(TestBench bench, double micronsPerSecond) {
    feedFrom(bench, micronsPerSecond);
    while (bench.out.state != State.EASING) {
      bench.step();
      assertTrue(bench.remainingMicrons > 500, bench.out.state + " " + bench.out.reason);
    }
    return bench.remainingMicrons;
  }

  private static void feedFrom(TestBench bench, double micronsPerSecond) {
    bench.started();
    bench.feedMicronsPerSecond = -1_000;
    bench.run(3_000);
    bench.feedMicronsPerSecond = micronsPerSecond;
  }
}
