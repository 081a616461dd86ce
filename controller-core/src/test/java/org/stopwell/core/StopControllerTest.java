package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;

class StopControllerTest {

  @Test
  void aFileOutsideOfTheCanalNeverTurns() {
    TestBench bench = new TestBench();
    bench.run(3_000);
    assertEquals(List.of(State.PARKED), bench.states);
    assertEquals(Cause.OPEN, bench.out.cause);
    assertEquals(Drive.OFF, bench.out.drive);
  }

  @Test
  void enteringTheCanalStartsTheMotorAndTheRampIsSoft() {
    TestBench bench = new TestBench();
    bench.run(200);
    bench.inCanal = true;
    while (bench.out.state == State.PARKED) {
      bench.step();
    }
    assertEquals(Reason.CANAL_ENTERED, bench.out.reason);
    bench.run(50);
    assertTrue(bench.out.speedMilliRpm <= 51 * 3_000);
    bench.run(100);
    assertEquals(300_000, bench.out.speedMilliRpm);
    assertEquals(6_000, bench.out.torqueLimitMicroNewtonMetres);
  }

  @Test
  void theApproachIsEasedAndEndsAtRestAtTheStandoff() {
    TestBench bench = new TestBench().started();
    bench.feedUntilStateChanges(1_000);
    assertEquals(State.EASING, bench.out.state);
    bench.feedUntilStateChanges(1_000);
    assertEquals(State.HOLDING, bench.out.state);
    assertEquals(Reason.STANDOFF_REACHED, bench.out.reason);
    assertEquals(Drive.BRAKE, bench.out.drive);
    // 150 ms of reaction at 1 mm/s are left for coming to rest.
    assertEquals(650, bench.remainingMicrons, 15);
  }

  @Test
  void turningAgainNeedsMillimetresAndMilliseconds() {
    TestBench bench = atTheStandoff();
    bench.run(5_000);
    assertEquals(State.HOLDING, bench.out.state);
    double stopped = bench.remainingMicrons;
    bench.leadTo(stopped + 900);
    bench.run(5_000);
    assertEquals(State.HOLDING, bench.out.state, "0.9 mm are not enough");
    bench.leadTo(stopped);
    bench.run(200);
    bench.leadTo(stopped + 1_250);
    bench.run(40);
    assertEquals(State.HOLDING, bench.out.state, "some 80 ms are not enough");
    bench.leadTo(stopped + 900);
    bench.run(50);
    bench.leadTo(stopped + 1_300);
    bench.run(40);
    assertEquals(State.HOLDING, bench.out.state, "the dwell begins anew");
    bench.run(150);
    assertEquals(State.TURNING, bench.out.state);
    assertEquals(Reason.REARMED, bench.out.reason);
  }

  @Test
  void aStopBeyondTheCurveNeedsTheFileToLeaveTheCanal() {
    TestBench bench = new TestBench();
    bench.run(200);
    bench.inCanal = true;
    bench.run(400);
    assertEquals(State.TURNING, bench.out.state);
    assertFalse(bench.out.readingPresent);
    bench.in.demand = false;
    bench.run(10);
    assertEquals(State.HOLDING, bench.out.state);
    bench.in.demand = true;
    bench.run(1_000);
    assertEquals(State.HOLDING, bench.out.state, "no distance, no withdrawal");
    bench.inCanal = false;
    bench.run(300);
    bench.inCanal = true;
    bench.run(400);
    assertEquals(State.TURNING, bench.out.state);
  }

  @Test
  void aBrokenLeadAtTheStandoffDoesNotRearm() {
    TestBench bench = atTheStandoff();
    bench.inCanal = false;
    bench.run(2_000);
    assertEquals(State.PARKED, bench.out.state);
    bench.inCanal = true;
    bench.remainingMicrons += 300;
    bench.run(5_000);
    assertEquals(State.PARKED, bench.out.state);
  }

  @Test
  void aStartAtTheStandoffIsRefused() {
    TestBench bench = new TestBench();
    bench.run(200);
    bench.inCanal = true;
    bench.remainingMicrons = 700;
    bench.run(3_000);
    assertEquals(List.of(State.PARKED), bench.states);
  }

  @Test
  void powerOnWithTheFileInTheCanalDoesNotTurn() {
    TestBench bench = new TestBench();
    bench.inCanal = true;
    bench.run(3_000);
    assertEquals(List.of(State.PARKED), bench.states);
    bench.in.demand = false;
    bench.run(10);
    bench.in.demand = true;
    bench.run(10);
    assertEquals(State.TURNING, bench.out.state);
  }

  @Test
  void leavingTheCanalParksTheMotor() {
    TestBench bench = new TestBench().started();
    bench.inCanal = false;
    bench.run(25);
    assertFalse(bench.out.drive.turns());
    bench.run(400);
    assertEquals(State.PARKED, bench.out.state);
    assertEquals(Reason.CANAL_LEFT, bench.out.reason);
  }

  @Test
  void apicalReverseTurnsBackTheSetAngleAndThenHolds() {
    TestBench bench = new TestBench(TestBench.length("apical", "back-out")).started();
    bench.feedUntilStateChanges(1_000);
    bench.feedUntilStateChanges(1_000);
    assertEquals(State.BACKING, bench.out.state);
    double degrees = 0;
    while (bench.out.state == State.BACKING) {
      bench.step();
      degrees -= bench.in.speedMilliRpm * 6e-6;
    }
    assertEquals(State.HOLDING, bench.out.state);
    assertEquals(Reason.BACKED_OUT, bench.out.reason);
    assertEquals(360, degrees, 2);
  }

  @Test
  void aSilentSensorStopsTheMotorInItsBudget() {
    TestBench bench = new TestBench().started();
    bench.sampling = false;
    bench.run(55);
    assertTrue(bench.out.drive.turns());
    bench.run(12);
    assertEquals(Reason.SIGNAL_STALE, bench.out.reason);
    assertEquals(Trust.NONE, bench.out.trust);
    assertEquals(Cause.STALE, bench.out.cause);
    assertFalse(bench.out.drive.turns());
  }

  @Test
  void aSaturatedFrontEndStopsTheMotorInItsBudget() {
    TestBench bench = new TestBench().started();
    bench.in.railed = true;
    bench.run(16);
    assertEquals(Cause.RAILED, bench.out.cause);
    assertFalse(bench.out.drive.turns());
  }

  @Test
  void aFloodedChamberIsCalledLeaking() {
    TestBench bench = new TestBench().started();
    bench.leakOhms = 1_000;
    bench.run(100);
    assertEquals(State.HOLDING, bench.out.state);
    assertEquals(Cause.LEAKING, bench.out.cause);
    assertEquals(Trust.DOUBTFUL, bench.out.trust);
  }

  @Test
  void aJumpOfTheReadingIsNotFollowedAndStopsTheMotor() {
    TestBench bench = new TestBench().started();
    bench.remainingMicrons -= 1_500;
    bench.run(15);
    assertTrue(bench.out.remainingMicrons > 3_300);
    bench.run(20);
    assertEquals(Cause.JUMPY, bench.out.cause);
    assertEquals(State.HOLDING, bench.out.state);
    bench.run(1_000);
    assertEquals(Trust.SURE, bench.out.trust);
    assertEquals(2_000, bench.out.remainingMicrons, 5);
  }

  @Test
  void aJumpThatMakesTheTipSeemFartherIsNeverBelieved() {
    for (double gain : new double[] {1.1, 1.15, 1.35, 3}) {
      TestBench bench = new TestBench().started();
      bench.feedMicronsPerSecond = 500;
      bench.run(5_000);
      bench.highGain = gain;
      bench.run(30);
      assertEquals(State.HOLDING, bench.out.state, "gain " + gain);
      assertEquals(Cause.JUMPY, bench.out.cause, "gain " + gain);
      bench.feedMicronsPerSecond = 0;
      bench.run(2_000);
      assertEquals(State.HOLDING, bench.out.state, "gain " + gain);
      assertEquals(Trust.DOUBTFUL, bench.out.trust, "gain " + gain);
      assertTrue(bench.out.remainingMicrons < 1_100, "gain " + gain);
    }
  }

  @Test
  void aFileThatIsWithdrawnFasterThanAHandIsBelievedSinceTheMagnitudeRisesToo() {
    TestBench bench = new TestBench().started();
    bench.remainingMicrons = 1_500;
    bench.run(1_000);
    bench.remainingMicrons = 3_000;
    bench.run(1_000);
    assertEquals(3_000, bench.out.remainingMicrons, 5);
    assertEquals(Trust.SURE, bench.out.trust);
  }

  @Test
  void afterAJumpOnlyAWayOutOfTheCanalBeginsAnew() {
    TestBench bench = new TestBench().started();
    bench.feedUntilStateChanges(1_000);
    bench.highGain = 1.3;
    bench.run(1_000);
    assertEquals(Cause.JUMPY, bench.out.cause);
    bench.inCanal = false;
    bench.run(400);
    bench.highGain = 1;
    bench.in.demand = false;
    bench.run(10);
    bench.in.demand = true;
    bench.started();
    assertEquals(Trust.SURE, bench.out.trust);
  }

  @Test
  void anUnchangingSignalWhileTheFileTurnsIsFrozen() {
    TestBench bench = new TestBench().started();
    int real = bench.in.zRealMilliOhms[0];
    int high = bench.in.zRealMilliOhms[1];
    int ms = 0;
    while (bench.out.drive.turns() && ms < 1_000) {
      bench.nowNs += TestBench.MS;
      ms++;
      if (ms % 5 == 0) {
        bench.sample();
        bench.in.zRealMilliOhms[0] = real;
        bench.in.zRealMilliOhms[1] = high;
      }
      bench.controller.step(bench.nowNs, bench.in, bench.out);
    }
    assertEquals(Cause.FROZEN, bench.out.cause);
    assertEquals(255, ms, 10);
  }

  @Test
  void oneFrequencyThatFreezesBesideALivingOneIsFrozenAndTheFileRestsShortOfTheForamen() {
    TestBench bench = new TestBench().started();
    bench.feedMicronsPerSecond = 500;
    while (bench.remainingMicrons > 620) {
      bench.step();
    }
    assertEquals(State.EASING, bench.out.state);
    bench.frozenHigh = true;
    bench.feedUntilStateChanges(500);
    assertEquals(State.HOLDING, bench.out.state);
    assertEquals(Cause.FROZEN, bench.out.cause);
    assertEquals(Trust.NONE, bench.out.trust);
    assertEquals(495, bench.remainingMicrons, 10, "250 ms at 0.5 mm/s past 0.62 mm");
  }

  @Test
  void theStopLineLocksAndAResetAloneDoesNotTurn() {
    TestBench bench = new TestBench().started();
    bench.in.stopLine = true;
    bench.step();
    assertEquals(State.LOCKED, bench.out.state);
    assertFalse(bench.out.drive.turns());
    bench.in.reset = true;
    bench.run(10);
    assertEquals(State.LOCKED, bench.out.state, "the line is still open");
    bench.in.stopLine = false;
    bench.run(10);
    assertEquals(State.LOCKED, bench.out.state, "it was pressed before the line closed");
    bench.in.reset = false;
    bench.run(10);
    assertEquals(State.LOCKED, bench.out.state);
    bench.in.reset = true;
    bench.step();
    assertEquals(State.PARKED, bench.out.state);
    bench.run(3_000);
    assertEquals(State.PARKED, bench.out.state);
    bench.inCanal = false;
    bench.run(300);
    bench.in.demand = false;
    bench.run(10);
    bench.in.demand = true;
    bench.started();
  }

  @Test
  void aStuckResetNeverUnlocks() {
    TestBench bench = new TestBench();
    bench.in.reset = true;
    bench.started();
    for (int i = 0; i < 3; i++) {
      bench.in.stopLine = true;
      bench.run(50);
      bench.in.stopLine = false;
      bench.run(50);
      bench.in.frequencyCount = 9;
      bench.step();
      bench.in.frequencyCount = 2;
      bench.inCanal = i % 2 == 0;
      bench.run(500);
      bench.in.demand = i % 2 == 0;
      assertEquals(State.LOCKED, bench.out.state);
    }
  }

  @Test
  void afterAResetOnlyTheDemandPressedAnewStarts() {
    TestBench bench = new TestBench().started();
    bench.inCanal = false;
    bench.run(300);
    bench.in.stopLine = true;
    bench.run(20);
    bench.in.stopLine = false;
    bench.run(20);
    bench.in.reset = true;
    bench.run(20);
    bench.in.reset = false;
    bench.run(300);
    assertEquals(State.PARKED, bench.out.state);
    bench.inCanal = true;
    bench.run(1_000);
    assertEquals(State.PARKED, bench.out.state, "putting the file in is no new demand");
    bench.inCanal = false;
    bench.run(300);
    bench.in.demand = false;
    bench.run(20);
    bench.in.demand = true;
    bench.started();
  }

  @Test
  void aSilentBenchStopsTheMotorAtOnce() {
    TestBench bench = new TestBench().started();
    bench.in.linkAgeNs = 51 * TestBench.MS;
    bench.step();
    assertEquals(Reason.LINK_LOST, bench.out.reason);
    assertEquals(State.HOLDING, bench.out.state);
  }

  @Test
  void timeThatGoesBackwardsStopsTheMotor() {
    TestBench bench = new TestBench().started();
    bench.nowNs -= 20 * TestBench.MS;
    bench.step();
    assertEquals(Reason.TIME_FAULT, bench.out.reason);
    assertFalse(bench.out.drive.turns());
  }

  @Test
  void theTorqueLimitHolds() {
    TestBench bench = new TestBench().started();
    bench.in.torqueMicroNewtonMetres = 6_000;
    bench.run(16);
    assertEquals(State.HOLDING, bench.out.state);
    assertEquals(Reason.TORQUE_LIMIT, bench.out.reason);
  }

  @Test
  void aTorqueThatFlickersAtTheLimitStillTrips() {
    TestBench bench = new TestBench().started();
    for (int i = 0; i < 40; i++) {
      bench.in.torqueMicroNewtonMetres = i % 2 == 0 ? 6_000 : 0;
      bench.step();
    }
    assertEquals(Reason.TORQUE_LIMIT, bench.out.reason);
  }

  @Test
  void oneBudgetOfTorqueLastsFromTurningIntoEasing() {
    int steps = stepsUntilEasing(new TestBench().started());
    TestBench bench = new TestBench().started();
    bench.feedMicronsPerSecond = 1_000;
    bench.run(steps - 10);
    assertEquals(State.TURNING, bench.out.state);
    bench.in.torqueMicroNewtonMetres = 6_000;
    bench.run(14);
    assertEquals(State.EASING, bench.out.state);
    bench.run(1);
    assertEquals(Reason.TORQUE_LIMIT, bench.out.reason);
    assertEquals(State.HOLDING, bench.out.state);
  }

  private static int stepsUntilEasing(TestBench bench) {
    bench.feedMicronsPerSecond = 1_000;
    int steps = 0;
    while (bench.out.state == State.TURNING) {
      bench.step();
      steps++;
    }
    assertEquals(State.EASING, bench.out.state);
    return steps;
  }

  @Test
  void aTorqueOfTwiceTheLimitIsAnsweredAtOnce() {
    TestBench bench = new TestBench().started();
    bench.in.torqueMicroNewtonMetres = 11_999;
    bench.run(10);
    assertEquals(State.TURNING, bench.out.state);
    bench.in.torqueMicroNewtonMetres = 12_000;
    bench.run(1);
    assertEquals(Reason.TORQUE_LIMIT, bench.out.reason);
    assertEquals(State.HOLDING, bench.out.state);
  }

  /** Ten times the limit for 10 ms in every 55, each of which is below the budget. */
  @ParameterizedTest
  @ValueSource(strings = {"hold", "back-out", "rock"})
  void shortBlowsFarAboveTheLimitAreAnsweredAtOnceAndNotForgiven(String onTorque) {
    TestBench bench = new TestBench(TestBench.length("on_torque", onTorque)).started();
    bench.in.torqueMicroNewtonMetres = 60_000;
    bench.run(1);
    assertNotEquals(State.TURNING, bench.out.state);
    bench.run(9);
    boolean holds = onTorque.equals("hold");
    assertEquals(holds, bench.out.state == State.HOLDING, "the blow may end after the reaction");
    bench.in.torqueMicroNewtonMetres = 0;
    bench.run(45);
    bench.in.torqueMicroNewtonMetres = -60_000;
    bench.run(1);
    assertEquals(State.HOLDING, bench.out.state, "another blow under the reaction");
    assertEquals(Reason.TORQUE_LIMIT, bench.out.reason);
  }

  @Test
  void aBlowThatDoesNotEndUnderTheReactionHolds() {
    TestBench bench = new TestBench(TestBench.length("on_torque", "back-out")).started();
    bench.in.torqueMicroNewtonMetres = 60_000;
    bench.run(15);
    assertEquals(State.BACKING, bench.out.state);
    bench.run(1);
    assertEquals(State.HOLDING, bench.out.state);
  }

  @Test
  void theCeilingOfTheTorqueIsASetting() {
    Map<String, Map<String, Object>> settings = TestBench.settings();
    settings.put("guard", Map.of("torque_ceiling_percent", 150));
    TestBench bench = new TestBench(settings).started();
    bench.in.torqueMicroNewtonMetres = 9_000;
    bench.run(1);
    assertEquals(State.HOLDING, bench.out.state);
  }

  /** What touched while the file was turned back counts when it is driven on again. */
  @Test
  void aBackOutThatEndsUnderLoadLeavesNoNewBudget() {
    int steps = 0;
    TestBench probe = backingOut();
    for (; probe.out.state == State.BACKING; steps++) {
      probe.step();
    }
    TestBench bench = backingOut();
    bench.run(steps - 10);
    bench.in.torqueMicroNewtonMetres = -6_000;
    bench.run(14);
    assertEquals(State.TURNING, bench.out.state);
    bench.run(1);
    assertEquals(State.BACKING, bench.out.state);
  }

  private static TestBench backingOut() {
    TestBench bench = new TestBench(TestBench.length("on_torque", "back-out")).started();
    bench.in.torqueMicroNewtonMetres = 6_000;
    bench.run(15);
    assertEquals(State.BACKING, bench.out.state);
    bench.in.torqueMicroNewtonMetres = 0;
    return bench;
  }

  @Test
  void torqueBackOutGoesOnAndIsCapped() {
    TestBench bench = new TestBench(TestBench.length("on_torque", "back-out")).started();
    for (int i = 0; i < 3; i++) {
      bench.in.torqueMicroNewtonMetres = 6_000;
      bench.run(16);
      assertEquals(State.BACKING, bench.out.state);
      bench.in.torqueMicroNewtonMetres = 0;
      bench.run(1_000);
      assertEquals(State.TURNING, bench.out.state);
    }
    bench.in.torqueMicroNewtonMetres = 6_000;
    bench.run(16);
    assertEquals(State.HOLDING, bench.out.state);
    assertEquals(Reason.RETRIES_SPENT, bench.out.reason);
  }

  @Test
  void rockingNeverTurnsPastWhereItBegan() {
    TestBench bench = new TestBench(TestBench.length("on_torque", "rock")).started();
    bench.in.torqueMicroNewtonMetres = 6_000;
    bench.run(16);
    assertEquals(State.ROCKING, bench.out.state);
    bench.in.torqueMicroNewtonMetres = 0;
    double degrees = 0;
    double least = 0;
    double most = 0;
    while (bench.out.state == State.ROCKING) {
      bench.step();
      degrees += bench.in.speedMilliRpm * 6e-6;
      least = Math.min(least, degrees);
      most = Math.max(most, degrees);
    }
    assertEquals(State.TURNING, bench.out.state);
    assertEquals(-90, least, 3);
    assertTrue(most < 3, "most " + most);
  }

  @Test
  void aStageChangeWhileTurningIsRefused() {
    Map<String, Map<String, Object>> settings = TestBench.settings();
    settings.put("stages.shape", Map.of("speed_rpm", 500));
    TestBench bench = new TestBench(settings).started();
    bench.in.stage = Stage.SHAPE;
    bench.run(500);
    assertEquals(300_000, bench.out.speedMilliRpm);
    assertEquals(Reason.STAGE_REFUSED, bench.lastEvent().reason);
  }

  @Test
  void aBenchThatSendsNonsenseKeepsNoTrust() {
    TestBench bench = new TestBench().started();
    for (int ms = 1; ms <= 400; ms++) {
      bench.in.frequencyCount = 9;
      bench.sampling = false;
      bench.step();
      assertEquals(Reason.BAD_INPUT, bench.out.reason, "ms " + ms);
      assertEquals(ms <= 60 ? Trust.SURE : Trust.NONE, bench.out.trust, "ms " + ms);
      assertEquals(ms <= 60 ? Cause.NO_CAUSE : Cause.STALE, bench.out.cause, "ms " + ms);
    }
    assertTrue(!bench.out.drive.turns());
  }

  /** So many milliseconds in the canal are asked for in one go. */
  @Test
  void nonsenseBeginsTheWayIntoTheCanalAnew() {
    for (boolean nonsense : new boolean[] {false, true}) {
      Map<String, Map<String, Object>> settings = TestBench.settings();
      settings.put("sense", Map.of("enter_ms", 200));
      TestBench bench = new TestBench(settings);
      bench.run(300);
      bench.inCanal = true;
      bench.remainingMicrons = 3_500;
      bench.run(150);
      bench.in.torqueMicroNewtonMetres = nonsense ? Integer.MIN_VALUE : 0;
      bench.step();
      bench.in.torqueMicroNewtonMetres = 0;
      bench.run(100);
      assertEquals(!nonsense, bench.states.contains(State.TURNING), "nonsense " + nonsense);
      bench.run(150);
      assertTrue(bench.states.contains(State.TURNING));
    }
  }

  @Test
  void afterAFaultOfTimeTheReadingBeginsAnew() {
    TestBench bench = new TestBench().started();
    bench.sampling = false;
    bench.nowNs += 500 * TestBench.MS;
    bench.step();
    assertEquals(Reason.TIME_FAULT, bench.out.reason);
    assertEquals(Trust.NONE, bench.out.trust);
    assertEquals(Cause.STALE, bench.out.cause);
    bench.highGain = 1.05;
    bench.sampling = true;
    bench.run(200);
    assertTrue(bench.out.readingPresent, "no jump: there is nothing before it");
    assertEquals(Trust.SURE, bench.out.trust);
  }

  @Test
  void everyStopIsExplainedWithItsFiveNumbers() {
    TestBench bench = atTheStandoff();
    assertEquals(
        "Stopped so that the file rests at the standoff of 0.50 mm: 0.65 mm remaining (within 0.12 mm 95 times in 100),"
            + " closing at 1.00 mm/s, signal 0 ms old, 172 rpm, 0.00 N·cm.",
        Explain.event(bench.lastEvent()).replaceAll("signal \\d", "signal 0"));
  }

  @Test
  void overTravelIsToldAtOnce() {
    TestBench bench = atTheStandoff();
    bench.run(200);
    while (bench.remainingMicrons > -20) {
      bench.remainingMicrons -= 5;
      bench.step();
    }
    bench.run(10);
    assertEquals(Reason.PAST_FORAMEN, bench.out.reason);
    assertTrue(bench.out.remainingMicrons < 0);
    assertTrue(Explain.event(bench.lastEvent()).startsWith("Stopped because the file is past"));
    long events = bench.controller.events().count();
    bench.run(500);
    assertEquals(events, bench.controller.events().count(), "told once");
  }

  @Test
  void noiseOnTheSignalDoesNotStopTheMotor() {
    long seed = 20261125;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    TestBench bench =
        new TestBench() {
          @Override
          void sample() {
            super.sample();
            for (int i = 0; inCanal && i < 2; i++) {
              // 0.3 % of noise and 0.3 % of mains hum.
              double hum = StrictMath.sin(nowNs * 1e-9 * 2 * StrictMath.PI * 50);
              double factor = 1 + 0.003 * random.nextGaussian() + 0.003 * hum;
              in.zRealMilliOhms[i] = (int) (in.zRealMilliOhms[i] * factor);
            }
          }
        };
    bench.started();
    bench.run(20_000);
    assertEquals(State.TURNING, bench.out.state);
    assertEquals(2, bench.states.size());
  }

  @Test
  void aShortCircuitIsCalledLeakingAndHolds() {
    TestBench bench = new TestBench().started();
    bench.leakOhms = 1;
    bench.run(45);
    assertEquals(Cause.LEAKING, bench.out.cause);
    assertFalse(bench.out.drive.turns());
  }

  @Test
  void aSampleWithoutTheFrequenciesOfTheSettingsIsBadInput() {
    TestBench bench =
        new TestBench() {
          @Override
          void sample() {
            super.sample();
            in.frequencyHz[0] = 600;
          }
        };
    bench.run(500);
    bench.inCanal = true;
    bench.run(1_000);
    assertEquals(List.of(State.PARKED), bench.states);
    assertFalse(bench.out.readingPresent);
  }

  @Test
  void theTorqueLimitIsNotBlankedAtTheStart() {
    TestBench bench = new TestBench();
    bench.run(200);
    bench.inCanal = true;
    bench.in.torqueMicroNewtonMetres = 6_000;
    bench.run(1_000);
    assertEquals(List.of(State.PARKED), bench.states, "at the limit before it turns: no start");
    bench.in.torqueMicroNewtonMetres = 0;
    while (bench.out.state == State.PARKED) {
      bench.step();
    }
    bench.in.torqueMicroNewtonMetres = 6_000;
    bench.run(15);
    assertEquals(Reason.TORQUE_LIMIT, bench.out.reason);
    assertEquals(State.HOLDING, bench.out.state);
  }

  @Test
  void aStepThatComesTooLateStopsTheMotor() {
    TestBench bench = new TestBench().started();
    bench.nowNs += 49 * TestBench.MS;
    bench.step();
    assertTrue(bench.out.drive.turns(), "50 ms are tolerated");
    bench.run(100);
    bench.nowNs += 50 * TestBench.MS;
    bench.step();
    assertEquals(Reason.TIME_FAULT, bench.out.reason);
    assertFalse(bench.out.drive.turns());
  }

  private static TestBench atTheStandoff() {
    TestBench bench = new TestBench().started();
    bench.feedUntilStateChanges(1_000);
    bench.feedUntilStateChanges(1_000);
    assertEquals(State.HOLDING, bench.out.state);
    return bench;
  }
}
