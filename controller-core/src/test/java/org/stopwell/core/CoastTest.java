package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.State;
import org.stopwell.core.motion.StopPredictor;

class CoastTest {
  /** A hand that pushes on for 60 ms after the motor has stopped. */
  private static final int HAND_MS = 60;

  @Test
  void stopsBecomeRightOnceTheCoastIsLearned() {
    TestBench bench = new TestBench().started();
    double first = stopAndWithdraw(bench, 1_000);
    assertEquals(590, first, 15, "150 ms were guessed, 60 ms were needed");
    for (int i = 0; i < 8; i++) {
      stopAndWithdraw(bench, 1_000);
    }
    assertEquals(500, stopAndWithdraw(bench, 1_000), 15);
    assertEquals(500, stopAndWithdraw(bench, 500), 15);
    assertEquals(500, stopAndWithdraw(bench, 2_000), 30);
    assertEquals(60, bench.controller.coastNs() / 1e6, 10);
  }

  @Test
  void nothingIsLearnedWhenTheSettingsSaySo() {
    TestBench bench = new TestBench(TestBench.length("learn_coast", false)).started();
    for (int i = 0; i < 5; i++) {
      assertEquals(590, stopAndWithdraw(bench, 1_000), 15);
    }
  }

  @Test
  void theTravelAfterTheDecisionIsTakenOffAndAWithdrawnFileGainsNothing() {
    assertEquals(900, StopPredictor.atRest(1_000, 1_000, 100_000_000));
    assertEquals(1_000, StopPredictor.atRest(1_000, -1_000, 100_000_000));
    assertEquals(1_000, StopPredictor.atRest(2_000, 1e9, 100_000_000), "one wild speed");
  }

  private static double stopAndWithdraw(TestBench bench, double speed) {
    bench.feedMicronsPerSecond = speed;
    while (bench.out.state != State.HOLDING) {
      bench.step();
      assertTrue(bench.remainingMicrons > -1_000);
    }
    bench.run(HAND_MS);
    bench.feedMicronsPerSecond = 0;
    double rest = bench.remainingMicrons;
    bench.run(700);
    bench.feedMicronsPerSecond = -2_000;
    bench.run(1_200);
    bench.feedMicronsPerSecond = 0;
    bench.run(300);
    assertEquals(State.TURNING, bench.out.state);
    return rest;
  }
}
