package org.stopwell.harness.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.FileCondition;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;

/** The verdict of a trial, one file after another. Standoff 0.5 ± 0.2 mm. */
class VerdictTest {
  private static final long MS = 1_000_000;

  /** Rest is judged over intervals of half a second. */
  private static final long STRETCH_NS = 500 * MS;

  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private final Truth truth = new Truth();
  private boolean speedSensor = true;
  private long nowNs;

  @Test
  void restingInTheBandPasses() {
    Watch watch = driveTo(600, stop());
    rest(watch, 600);
    assertRuling(watch, Verdict.PASS, "AT_STANDOFF", stop());
    assertEquals(600, watch.restingMicrons);
  }

  @Test
  void restingTooFarOutIsEarly() {
    Watch watch = driveTo(701, stop());
    rest(watch, 701);
    Judge.Ruling ruling = assertRuling(watch, Verdict.FAIL, "EARLY", stop());
    assertEquals(
        "Stopped 0.701 mm short of the foramen, 0.201 mm before the standoff; 0.200 mm is allowed.",
        ruling.message());
  }

  @Test
  void restingTooDeepIsLate() {
    Watch watch = driveTo(600, stop());
    rest(watch, 299);
    assertRuling(watch, Verdict.FAIL, "LATE_STOP", stop());
  }

  @Test
  void aMomentPastTheForamenFailsEvenWhenTheFileRestsInTheBand() {
    Watch watch = driveTo(600, stop());
    step(watch, -1, 0);
    rest(watch, 500);
    assertRuling(watch, Verdict.FAIL, "OVER_TRAVEL", stop());
  }

  @Test
  void aFileDrawnOutBeforeItRestsShowsNothing() {
    Watch watch = driveTo(600, stop());
    hold();
    for (int i = 0; i < 3_000; i++) {
      step(watch, 600 + i, 0);
    }
    assertRuling(watch, Verdict.UNDECIDED, "DRAWN_OUT", stop());
  }

  @Test
  void aStopThatTheMotorTurnsOnFromIsNotTheStop() {
    Watch watch = driveTo(4_000, stop());
    step(watch, 4_000, 0);
    long early = watch.decidedNs;
    driveOn(watch, 4_000, 600);
    rest(watch, 550);
    assertRuling(watch, Verdict.PASS, "AT_STANDOFF", stop());
    assertTrue(watch.decidedNs > early);
  }

  @Test
  void aFileThatTwistsOffEndsTheTrialAtOnceAndFails() {
    Watch watch = driveTo(2_400, stop());
    truth.file = FileCondition.TWISTED_OFF;
    truth.torqueMicroNewtonMetres = 8_125;
    step(watch, 5_400, 300_000);
    assertEquals(Watch.End.BROKEN, watch.end);
    Judge.Ruling ruling = assertRuling(watch, Verdict.FAIL, "FILE_BROKE", stop());
    assertEquals(
        "The file separated by torsion 2.410 mm short of the foramen, at 8.125 mN m.",
        ruling.message());
  }

  @Test
  void aFileThatBreaksByBendingFailsEvenWhereARefusalWasExpected() {
    Watch watch = driveTo(3_000, refusal());
    truth.file = FileCondition.BENT_OFF;
    step(watch, 4_000, 300_000);
    Judge.Ruling ruling = assertRuling(watch, Verdict.FAIL, "FILE_BROKE", refusal());
    assertTrue(ruling.message().contains("by cyclic bending in the curve"), ruling.message());
  }

  @Test
  void aFileThatCreepsOnIsNotAtRest() {
    Watch watch = driveTo(600, stop());
    hold();
    // 0.2 mm/s: 100 µm in each half second.
    for (int i = 0; i < 2_000; i++) {
      step(watch, 600 - i / 5, 0);
    }
    assertEquals(Watch.End.NOT_YET, watch.end);
    rest(watch, 200);
    assertEquals(Watch.End.STOPPED, watch.end);
    assertEquals(200, watch.restingMicrons);
  }

  @Test
  void aMotorThatRunsDownIsNotAtRest() {
    Watch watch = driveTo(600, stop());
    hold();
    for (int i = 0; i < 3_000; i++) {
      step(watch, 600, 2_000);
    }
    assertEquals(Watch.End.NOT_YET, watch.end);
  }

  @Test
  void tremorOfAHandAtRestDoesNotKeepATrialOpen() {
    Watch watch = driveTo(600, stop());
    hold();
    for (int i = 0; i < 3_000 && watch.end == Watch.End.NOT_YET; i++) {
      double drift = 35 * (wave(0.1, i) + wave(0.3, i));
      step(watch, 600 + (int) Math.round(50 * wave(10, i) + drift), 0);
    }
    assertRuling(watch, Verdict.PASS, "AT_STANDOFF", stop());
  }

  private static double wave(double hertz, int ms) {
    return Math.sin(2 * Math.PI * hertz * ms / 1000.0);
  }

  /** Three stretches at one place hold two rests: the first has moved since the one before. */
  @Test
  void restsWithMotionBetweenThemDoNotAddUp() {
    Watch watch = driveTo(4_000, refusal());
    refuse(Cause.LEAKING);
    while (nowNs < STRETCH_NS) {
      step(watch, 4_000, 0);
    }
    for (int at = 4_000; at > 3_000; at -= 100) {
      stretches(watch, 3, at);
    }
    assertEquals(Watch.End.NOT_YET, watch.end, "twenty rests, never more than two in a row");
  }

  @Test
  void fourRestsInARowEndATrialWithoutADecision() {
    Watch watch = driveTo(4_000, refusal());
    refuse(Cause.LEAKING);
    while (nowNs < STRETCH_NS) {
      step(watch, 4_000, 0);
    }
    stretches(watch, 4, 3_900);
    assertEquals(Watch.End.NOT_YET, watch.end, "moved, then three rests");
    stretches(watch, 1, 3_900);
    assertEquals(Watch.End.SETTLED, watch.end);
    assertEquals(3_900, watch.restingMicrons);
  }

  /** A drift of 35 µm rms moves the mean by up to 49 µm. */
  @ParameterizedTest
  @CsvSource({"52, 0, STOPPED", "53, 0, NOT_YET", "0, 1000, STOPPED", "0, 1001, NOT_YET"})
  void restIsDriftAndThreeMicrometresAndOneTurnPerMinuteAtMost(
      int drift, int milliRpm, Watch.End end) {
    Watch watch = driveTo(600, stop());
    while (nowNs < STRETCH_NS) {
      step(watch, 600, 0);
    }
    stretches(watch, 1, 600);
    for (int i = 0; i < STRETCH_NS / MS; i++) {
      step(watch, 600 - drift, milliRpm);
    }
    assertEquals(end, watch.end);
  }

  /** From the deepest place since the decision. */
  @ParameterizedTest
  @CsvSource({"2000, NOT_YET", "2001, DRAWN_OUT"})
  void aFileDrawnOutByMoreThanTwoMillimetresShowsNothing(int microns, Watch.End end) {
    Watch watch = driveTo(600, stop());
    step(watch, 550, 0);
    step(watch, 550 + microns, 0);
    assertEquals(end, watch.end);
  }

  private void stretches(Watch watch, int count, int microns) {
    for (long end = nowNs + count * STRETCH_NS; nowNs < end; ) {
      step(watch, microns, 0);
    }
  }

  @Test
  void refusingAReadableCanalFails() {
    Watch watch = driveTo(4_000, stop());
    refuse(Cause.UNWETTED);
    rest(watch, 4_000);
    assertRuling(watch, Verdict.FAIL, "REFUSED", stop());
  }

  @Test
  void refusingAWorthlessReadingPasses() {
    Watch watch = driveTo(4_000, refusal());
    refuse(Cause.LEAKING);
    rest(watch, 4_000);
    assertRuling(watch, Verdict.PASS, "LEAKING", refusal());
  }

  @Test
  void whereBothArePermittedAStopMustLieInTheBandAndARefusalNeedsItsCause() {
    for (Expectation either : new Expectation[] {Expectation.STOP_OR_REFUSE, Expectation.COMPARE}) {
      Watch refused = driveTo(4_000, spec(either));
      refuse(Cause.LEAKING);
      rest(refused, 4_000);
      assertRuling(refused, Verdict.PASS, "LEAKING", spec(either));
      Watch stopped = driveTo(600, spec(either));
      rest(stopped, 600);
      assertRuling(stopped, Verdict.PASS, "AT_STANDOFF", spec(either));
      Watch early = driveTo(701, spec(either));
      rest(early, 701);
      assertRuling(early, Verdict.FAIL, "EARLY", spec(either));
      Watch past = driveTo(600, spec(either));
      step(past, -1, 0);
      rest(past, 500);
      assertRuling(past, Verdict.FAIL, "OVER_TRAVEL", spec(either));
    }
  }

  @Test
  void stoppingAsIfItKnewIsNoRefusal() {
    Watch watch = driveTo(600, refusal());
    rest(watch, 600);
    assertRuling(watch, Verdict.FAIL, "NOT_REFUSED", refusal());
  }

  @Test
  void beingSureAndWrongWhileTurningFailsEvenWhenARefusalFollows() {
    Watch watch = new Watch(refusal());
    out.drive = Drive.FORWARD;
    out.state = State.TURNING;
    out.trust = Trust.SURE;
    out.readingPresent = true;
    out.remainingMicrons = 3_000;
    step(watch, 3_201, 300_000);
    refuse(Cause.LEAKING);
    rest(watch, 3_201);
    assertRuling(watch, Verdict.FAIL, "FALSELY_SURE", refusal());
  }

  @Test
  void aMotorThatNeverStartsFails() {
    Watch watch = new Watch(stop());
    rest(watch, 4_000);
    Judge.Ruling ruling = assertRuling(watch, Verdict.FAIL, "NEVER_STARTED", stop());
    assertTrue(ruling.message().contains("state PARKED, trust NONE"), ruling.message());
    Watch dry = new Watch(refusal());
    rest(dry, 4_000);
    assertRuling(dry, Verdict.FAIL, "NEVER_STARTED", refusal());
  }

  @Test
  void theTimeLimitBeforeTheStandoffDecidesNothing() {
    Watch watch = driveTo(600, stop());
    drive();
    while (watch.end == Watch.End.NOT_YET) {
      step(watch, 600, 300_000);
    }
    assertRuling(watch, Verdict.UNDECIDED, "TIME_LIMIT", stop());
  }

  @Test
  void drivingThroughTheBandFails() {
    Watch watch = driveTo(600, stop());
    drive();
    while (watch.end == Watch.End.NOT_YET) {
      step(watch, 100, 300_000);
    }
    assertRuling(watch, Verdict.FAIL, "NO_STOP", stop());
  }

  @Test
  void theEmergencyStopIsASafetyStop() {
    Watch watch = driveTo(2_000, stop());
    truth.stopLine = true;
    out.state = State.LOCKED;
    out.drive = Drive.OFF;
    out.reason = Reason.STOP_LINE;
    rest(watch, 2_000);
    assertRuling(watch, Verdict.SAFETY_STOP, "STOP_LINE", stop());
  }

  @Test
  void aBenchThatFellSilentIsNotTheControllersFailure() {
    Watch watch = driveTo(2_000, stop());
    out.state = State.LOCKED;
    out.drive = Drive.OFF;
    out.reason = Reason.LINK_LOST;
    rest(watch, 2_000);
    assertRuling(watch, Verdict.RIG_FAULT, "LINK_LOST", stop());
  }

  @Test
  void restingPastTheForamenOnPurposePasses() {
    Watch watch = driveTo(-400, patency());
    rest(watch, -450);
    Judge.Ruling ruling = assertRuling(watch, Verdict.PASS, "AT_STANDOFF", patency());
    assertEquals(
        "Stopped 0.450 mm past the foramen, 0.050 mm before the standoff.", ruling.message());
  }

  @Test
  void theSameRestIsOverTravelWhereNobodyPlannedIt() {
    Watch watch = driveTo(-400, stop());
    rest(watch, -450);
    assertRuling(watch, Verdict.FAIL, "OVER_TRAVEL", stop());
  }

  @Test
  void aMomentPastThePlannedBandIsOverTravel() {
    Watch edge = driveTo(-400, patency());
    step(edge, -700, 0);
    rest(edge, -500);
    assertRuling(edge, Verdict.PASS, "AT_STANDOFF", patency());
    Watch past = driveTo(-400, patency());
    step(past, -701, 0);
    rest(past, -500);
    Judge.Ruling ruling = assertRuling(past, Verdict.FAIL, "OVER_TRAVEL", patency());
    assertEquals(
        "The file went 0.701 mm past the foramen; 0.700 mm is the planned limit.",
        ruling.message());
  }

  @Test
  void aPatencyTrialThatStopsShortOfItsBandIsEarly() {
    Watch watch = driveTo(100, patency());
    rest(watch, 100);
    assertRuling(watch, Verdict.FAIL, "EARLY", patency());
  }

  @Test
  void restingAtTheDepthLimitPassesByTheAxis() {
    Watch watch = driveTo(1_000, depthLimit());
    out.reason = Reason.DEPTH_LIMIT;
    rest(watch, 980);
    Judge.Ruling ruling = assertRuling(watch, Verdict.PASS, "AT_DEPTH_LIMIT", depthLimit());
    assertEquals(
        "Rests at 11.020 mm by the axis, 0.020 mm past the depth limit. On the way a torque of up to"
            + " 0.00 N·cm of 0.60 N·cm and no torque reaction.",
        ruling.message());
  }

  @Test
  void aMomentPastTheDepthLimitAndItsToleranceFails() {
    Watch watch = driveTo(1_000, depthLimit());
    out.reason = Reason.DEPTH_LIMIT;
    step(watch, 799, 0);
    rest(watch, 1_000);
    assertRuling(watch, Verdict.FAIL, "PAST_LIMIT", depthLimit());
  }

  @Test
  void aRestForAnotherReasonIsNotTheDepthLimit() {
    Watch watch = driveTo(1_000, depthLimit());
    rest(watch, 1_000);
    Judge.Ruling ruling = assertRuling(watch, Verdict.FAIL, "NOT_REACHED", depthLimit());
    assertTrue(ruling.message().contains("11.000 mm by the axis, 0.000 mm before"));
    Watch above = driveTo(3_000, depthLimit());
    out.reason = Reason.DEPTH_LIMIT;
    rest(above, 3_000);
    assertRuling(above, Verdict.FAIL, "EARLY", depthLimit());
  }

  @Test
  void aTorqueBeyondItsLimitFailsEvenAtTheDepthLimit() {
    for (int most : new int[] {6_300, 6_301}) {
      Watch watch = driveTo(1_000, depthLimit());
      drive();
      truth.torqueMicroNewtonMetres = -most;
      for (int i = 0; i < 102; i++) {
        step(watch, 1_000, 300_000);
      }
      truth.torqueMicroNewtonMetres = 0;
      for (int i = 0; i < 100; i++) {
        step(watch, 1_000, 300_000);
      }
      truth.torqueMicroNewtonMetres = 50_000;
      step(watch, 1_000, 300_000);
      truth.torqueMicroNewtonMetres = 0;
      hold();
      out.reason = Reason.DEPTH_LIMIT;
      rest(watch, 1_000);
      boolean within = most == 6_300;
      assertRuling(
          watch,
          within ? Verdict.PASS : Verdict.FAIL,
          within ? "AT_DEPTH_LIMIT" : "TORQUE_EXCEEDED",
          depthLimit());
    }
  }

  @Test
  void aFileThatTurnsAndGetsNoDeeperHasNotReachedTheLimit() {
    for (int seconds : new int[] {9, 11}) {
      Watch watch = driveTo(3_000, depthLimit());
      drive();
      for (int i = 0; i < seconds * 1_000; i++) {
        step(watch, 3_000, 300_000);
      }
      watch.end = Watch.End.TIME_LIMIT;
      boolean stuck = seconds == 11;
      assertRuling(
          watch,
          stuck ? Verdict.FAIL : Verdict.UNDECIDED,
          stuck ? "NOT_REACHED" : "TIME_LIMIT",
          depthLimit());
    }
  }

  @Test
  void torqueReactionsOnTheWayAreCountedAndAllowed() {
    Watch watch = driveTo(3_000, depthLimit());
    out.state = State.BACKING;
    out.reason = Reason.TORQUE_LIMIT;
    step(watch, 3_000, -300_000);
    drive();
    step(watch, 3_000, 300_000);
    for (int microns = 3_000; microns > 1_000; microns -= 10) {
      step(watch, microns, 300_000);
    }
    hold();
    out.reason = Reason.DEPTH_LIMIT;
    rest(watch, 1_000);
    Judge.Ruling ruling = assertRuling(watch, Verdict.PASS, "AT_DEPTH_LIMIT", depthLimit());
    assertTrue(ruling.message().endsWith("and 1 torque reaction."), ruling.message());
  }

  @Test
  void aDepthLimitWithoutADepthSaysNothingAboutTheController() {
    Watch watch = driveTo(1_000, depthLimit());
    out.reason = Reason.DEPTH_LIMIT;
    rest(watch, 1_000);
    in.insertionPresent = false;
    watch.look(nowNs + MS, in, out, truth);
    assertRuling(watch, Verdict.RIG_FAULT, "NO_DEPTH", depthLimit());
  }

  @Test
  void aDeadSpeedSensorIsTheRigsFault() {
    Watch watch = driveTo(3_000, stop());
    drive();
    speedSensor = false;
    for (int i = 0; i < 300; i++) {
      step(watch, 3_000, 300_000);
    }
    lock(Reason.STALLED);
    rest(watch, 3_000);
    assertRuling(watch, Verdict.RIG_FAULT, "SPEED_SENSOR", stop());
  }

  @Test
  void aMotorWithoutCurrentIsTheRigsFaultAndAStallUnderCurrentIsNot() {
    for (int current : new int[] {0, 200}) {
      Watch watch = driveTo(3_000, stop());
      drive();
      in.currentMilliAmps = current;
      for (int i = 0; i < 300; i++) {
        step(watch, 3_000, 0);
      }
      lock(Reason.STALLED);
      rest(watch, 3_000);
      if (current == 0) {
        assertRuling(watch, Verdict.RIG_FAULT, "MOTOR", stop());
      } else {
        assertRuling(watch, Verdict.FAIL, "LOCKED", stop());
      }
    }
  }

  @Test
  void samplesThatStopAreTheRigsFault() {
    Watch watch = driveTo(3_000, stop());
    out.reason = Reason.SIGNAL_STALE;
    rest(watch, 3_000);
    assertRuling(watch, Verdict.RIG_FAULT, "FRONT_END", stop());
  }

  @Test
  void anOpenCircuitIsTheRigsFaultWhereItWasClosedBeforeOnly() {
    Watch broken = driveTo(3_000, stop());
    drive();
    sample(broken, 3_500, 9_000);
    sample(broken, 3_000, 2_000_000);
    refuse(Cause.OPEN);
    rest(broken, 3_000);
    assertRuling(broken, Verdict.RIG_FAULT, "LEADS", stop());
    Watch air = driveTo(3_000, stop());
    drive();
    sample(air, 3_500, 9_000);
    sample(air, 3_600, 2_000_000);
    refuse(Cause.OPEN);
    rest(air, 3_600);
    assertRuling(air, Verdict.FAIL, "REFUSED", stop());
  }

  @Test
  void aFrozenSignalIsTheRigsFaultAndAFalseAlarmIsTheControllers() {
    for (boolean frozen : new boolean[] {true, false}) {
      Watch watch = driveTo(3_000, stop());
      drive();
      for (int i = 0; i < 40; i++) {
        sample(watch, 3_000 - 10 * i, 9_000 + (frozen && i >= 25 ? 25 : i));
      }
      refuse(Cause.FROZEN);
      rest(watch, 2_600);
      if (frozen) {
        assertRuling(watch, Verdict.RIG_FAULT, "FRONT_END", stop());
      } else {
        assertRuling(watch, Verdict.FAIL, "REFUSED", stop());
      }
    }
  }

  @Test
  void aBrokenSensorExcusesNoOverTravelAndNoWrongClaim() {
    Watch past = driveTo(600, stop());
    in.railed = true;
    step(past, -1, 0);
    in.railed = false;
    rest(past, 500);
    assertRuling(past, Verdict.FAIL, "OVER_TRAVEL", stop());
    Watch late = driveTo(600, stop());
    in.railed = true;
    step(late, 600, 0);
    rest(late, 200);
    assertRuling(late, Verdict.FAIL, "LATE_STOP", stop());
    Watch sure = driveTo(600, refusal());
    rest(sure, 600);
    assertRuling(sure, Verdict.FAIL, "NOT_REFUSED", refusal());
  }

  @Test
  void aRefusalForWhatTheRigDidShowsNothing() {
    Watch watch = driveTo(4_000, refusal());
    in.railed = true;
    refuse(Cause.RAILED);
    rest(watch, 4_000);
    assertRuling(watch, Verdict.RIG_FAULT, "FRONT_END", refusal());
  }

  private void lock(Reason reason) {
    out.state = State.LOCKED;
    out.drive = Drive.OFF;
    out.reason = reason;
  }

  private void sample(Watch watch, int microns, int ohms) {
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = 1;
    in.sampleSequence++;
    in.zRealMilliOhms[0] = ohms * 1_000;
    step(watch, microns, 300_000);
  }

  private Watch driveTo(int microns, TrialSpec spec) {
    Watch watch = new Watch(spec);
    driveOn(watch, 5_000, microns);
    return watch;
  }

  private void driveOn(Watch watch, int from, int to) {
    drive();
    for (int at = from; at > to; at -= 10) {
      out.readingPresent = true;
      out.remainingMicrons = at;
      out.trust = Trust.SURE;
      step(watch, at, 300_000);
    }
    hold();
  }

  private void drive() {
    out.state = State.TURNING;
    out.drive = Drive.FORWARD;
    out.reason = Reason.CANAL_ENTERED;
  }

  private void hold() {
    out.state = State.HOLDING;
    out.drive = Drive.BRAKE;
    out.reason = Reason.STANDOFF_REACHED;
  }

  private void refuse(Cause cause) {
    out.state = State.HOLDING;
    out.drive = Drive.BRAKE;
    out.reason = Reason.TRUST_LOST;
    out.trust = Trust.NONE;
    out.cause = cause;
    out.readingPresent = false;
  }

  private void rest(Watch watch, int microns) {
    for (int i = 0; i < 5_000 && watch.end == Watch.End.NOT_YET; i++) {
      step(watch, microns, 0);
    }
    assertTrue(watch.end != Watch.End.NOT_YET, "still running");
  }

  private void step(Watch watch, int microns, int milliRpm) {
    truth.remainingMicrons = microns;
    in.insertionPresent = true;
    in.insertionMicrons = 12_000 - microns;
    truth.speedMilliRpm = milliRpm;
    in.speedMilliRpm = speedSensor ? milliRpm : 0;
    nowNs += MS;
    watch.look(nowNs, in, out, truth);
  }

  private Judge.Ruling assertRuling(Watch watch, Verdict verdict, String code, TrialSpec spec) {
    Judge.Ruling ruling = new Judge(spec, watch, out, () -> "As commanded.").rule();
    assertEquals(verdict + " " + code, ruling.verdict() + " " + ruling.code(), ruling.message());
    assertTrue(ruling.message().endsWith("."), ruling.message());
    return ruling;
  }

  private static TrialSpec stop() {
    return spec(Expectation.STOP);
  }

  private static TrialSpec refusal() {
    return spec(Expectation.REFUSE);
  }

  /** Standoff 0.5 mm past the foramen, ± 0.2 mm. */
  private static TrialSpec patency() {
    return spec(Expectation.PATENCY, -500);
  }

  /** 11 mm by the axis, ± 0.2 mm; the foramen lies 12 mm deep. */
  private static TrialSpec depthLimit() {
    return spec(Expectation.DEPTH_LIMIT);
  }

  private static TrialSpec spec(Expectation expectation) {
    return spec(expectation, 500);
  }

  private static TrialSpec spec(Expectation expectation, int standoffMicrons) {
    try {
      return new TrialSpec(
          0,
          "c",
          expectation,
          Stage.LENGTH,
          standoffMicrons,
          200,
          11_000,
          6_000,
          20_000 * MS,
          Scene.of(Map.of(), 1),
          List.of());
    } catch (SettingsException e) {
      throw new IllegalStateException(e);
    }
  }
}
