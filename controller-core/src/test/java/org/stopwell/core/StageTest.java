package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.LinkedHashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;

class StageTest {

  @Test
  void shapingInABrimfulCanalGoesOnAndSaysThatItCannotKnow() {
    TestBench bench = new TestBench(shape(Map.of("apical", "none", "on_doubtful", "none")));
    bench.in.stage = Stage.SHAPE;
    bench.run(200);
    bench.inCanal = true;
    bench.leakOhms = 1_000;
    bench.run(2_000);
    assertEquals(State.TURNING, bench.out.state);
    assertEquals(Trust.DOUBTFUL, bench.out.trust);
    assertEquals(Cause.LEAKING, bench.out.cause);
    bench.remainingMicrons = -500;
    bench.run(1_000);
    assertEquals(State.TURNING, bench.out.state, "the apical reaction is off by intent");
  }

  @Test
  void aDoubtfulReadingMayEase() {
    TestBench bench = new TestBench(TestBench.length("on_doubtful", "ease")).started();
    bench.leakOhms = 1_000;
    bench.run(300);
    assertEquals(State.EASING, bench.out.state);
    assertEquals(Reason.TRUST_LOST, bench.out.reason);
    assertEquals(150_000, bench.out.speedMilliRpm);
    bench.leakOhms = Double.POSITIVE_INFINITY;
    bench.run(1_000);
    assertEquals(State.TURNING, bench.out.state);
  }

  @Test
  void anOpenASaturatedAndAStaleSignalHoldInEveryStage() {
    Map<String, Object> bold = Map.of("apical", "none", "on_doubtful", "none", "on_none", "none");
    for (Cause cause : new Cause[] {Cause.OPEN, Cause.RAILED, Cause.STALE}) {
      TestBench bench = new TestBench(shape(bold));
      bench.in.stage = Stage.SHAPE;
      bench.started();
      bench.inCanal = cause != Cause.OPEN;
      bench.in.railed = cause == Cause.RAILED;
      bench.sampling = cause != Cause.STALE;
      bench.run(70);
      assertEquals(State.HOLDING, bench.out.state, cause.name());
      assertEquals(cause, bench.out.cause);
    }
  }

  @Test
  void theDepthLimitHoldsAndDrawingOutByTheFeedAxisRearms() {
    Map<String, Object> blind =
        Map.of("apical", "none", "on_doubtful", "none", "depth_limit_mm", "19.5");
    TestBench bench = new TestBench(shape(blind));
    bench.in.stage = Stage.SHAPE;
    bench.in.insertionPresent = true;
    bench.in.insertionMicrons = 16_000;
    bench.run(200);
    bench.inCanal = true;
    bench.leakOhms = 1_000;
    bench.run(400);
    assertEquals(State.TURNING, bench.out.state);
    bench.in.insertionMicrons = 19_499;
    bench.run(10);
    assertEquals(State.TURNING, bench.out.state);
    bench.in.insertionMicrons = 19_500;
    bench.step();
    assertEquals(State.HOLDING, bench.out.state);
    assertEquals(Reason.DEPTH_LIMIT, bench.out.reason);
    bench.in.insertionMicrons = 18_600;
    bench.run(1_000);
    assertEquals(State.HOLDING, bench.out.state);
    bench.in.insertionMicrons = 18_500;
    bench.run(149);
    assertEquals(State.HOLDING, bench.out.state);
    bench.run(2);
    assertEquals(State.TURNING, bench.out.state);
  }

  @Test
  void aDepthLimitThatCannotBeMeasuredNeverStarts() {
    TestBench bench = new TestBench(TestBench.length("depth_limit_mm", "19.5"));
    bench.run(200);
    bench.inCanal = true;
    bench.remainingMicrons = 3_500;
    bench.run(2_000);
    assertEquals(State.PARKED, bench.out.state);
  }

  @Test
  void backwardMotionBacksOutForward() {
    Map<String, Map<String, Object>> settings = TestBench.settings();
    settings.put("stages.length", Map.of("motion", "backward", "apical", "back-out"));
    TestBench bench = new TestBench(settings).started();
    assertEquals(Drive.BACKWARD, bench.out.drive);
    bench.feedUntilStateChanges(1_000);
    bench.feedUntilStateChanges(1_000);
    assertEquals(State.BACKING, bench.out.state);
    assertEquals(Drive.FORWARD, bench.out.drive);
    bench.run(3_000);
    assertEquals(Reason.BACKED_OUT, bench.out.reason);
  }

  @Test
  void patencyGoesPastTheForamenByTheStandoff() {
    TestBench bench = new TestBench(TestBench.length("standoff_mm", "-0.2")).started();
    bench.feedUntilStateChanges(500);
    bench.feedUntilStateChanges(500);
    assertEquals(State.HOLDING, bench.out.state);
    assertEquals(-200 + 75, bench.remainingMicrons, 10);
    assertEquals(Reason.PAST_FORAMEN, bench.out.reason);
  }

  @Test
  void aStageWithoutSettingsMayNotBeUsed() {
    TestBench bench = new TestBench();
    bench.in.stage = Stage.SHAPE;
    bench.run(200);
    bench.inCanal = true;
    bench.run(1_000);
    assertEquals(State.PARKED, bench.out.state);
    assertEquals(Reason.STAGE_REFUSED, bench.lastEvent().reason);
    bench.in.stage = Stage.LENGTH;
    bench.run(10);
    assertEquals(State.TURNING, bench.out.state);
  }

  @Test
  void aGloveOnTheFileDoesNotStartTheMotor() {
    // A wet glove is a capacitor: the ratio of a file near the foramen, the magnitude of none.
    TestBench bench =
        new TestBench(shape(Map.of("apical", "none", "on_doubtful", "none"))) {
          @Override
          void sample() {
            super.sample();
            in.zRealMilliOhms[0] = 1_000_000;
            in.zImagMilliOhms[0] = -95_000_000;
            in.zRealMilliOhms[1] = 1_000_000;
            in.zImagMilliOhms[1] = -9_500_000;
          }
        };
    bench.in.stage = Stage.SHAPE;
    bench.run(3_000);
    assertEquals(State.PARKED, bench.out.state);
    assertEquals(Cause.UNWETTED, bench.out.cause);
  }

  @Test
  void aFileThatBouncesAtTheOrificeDoesNotStart() {
    TestBench bench = new TestBench();
    bench.run(200);
    for (int i = 0; i < 100; i++) {
      bench.inCanal = i % 2 == 0;
      bench.run(60);
      assertFalse(bench.out.drive.turns());
    }
    assertTrue(bench.states.size() == 1);
  }

  private static Map<String, Map<String, Object>> shape(Map<String, Object> values) {
    Map<String, Map<String, Object>> settings = new LinkedHashMap<>(TestBench.settings());
    settings.put("stages.shape", values);
    return settings;
  }
}
