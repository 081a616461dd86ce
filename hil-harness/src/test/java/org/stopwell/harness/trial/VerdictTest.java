package org.stopwell.harness.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.FileCondition;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;

/** What a trial comes to, told as the story of one file after another. Standoff 0.5 ± 0.2 mm. */
class VerdictTest {
  private static final long MS = 1_000_000;

  private final ControllerOutput out = new ControllerOutput();
  private final Truth truth = new Truth();
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
        "The file twisted off 2.410 mm short of the foramen, at 8.125 mN m.", ruling.message());
  }

  @Test
  void aFileThatBreaksByBendingFailsEvenWhereARefusalWasExpected() {
    Watch watch = driveTo(3_000, refusal());
    truth.file = FileCondition.BENT_OFF;
    step(watch, 4_000, 300_000);
    Judge.Ruling ruling = assertRuling(watch, Verdict.FAIL, "FILE_BROKE", refusal());
    assertTrue(ruling.message().contains("turn after turn in the curve"), ruling.message());
  }

  @Test
  void aFileThatCreepsOnIsNotAtRest() {
    Watch watch = driveTo(600, stop());
    hold();
    // 0.02 mm/s: 10 µm in each half second.
    for (int i = 0; i < 4_000; i++) {
      step(watch, 600 - i / 50, 0);
    }
    assertEquals(Watch.End.NOT_YET, watch.end);
    rest(watch, 520);
    assertEquals(Watch.End.STOPPED, watch.end);
    assertEquals(520, watch.restingMicrons);
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
      step(watch, 600 + (int) Math.round(10 * Math.sin(2 * Math.PI * 10 * i / 1000.0)), 0);
    }
    assertRuling(watch, Verdict.PASS, "AT_STANDOFF", stop());
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
    assertRuling(watch, Verdict.FAIL, "NEVER_STARTED", stop());
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
    truth.speedMilliRpm = milliRpm;
    nowNs += MS;
    watch.look(nowNs, out, truth);
  }

  private Judge.Ruling assertRuling(Watch watch, Verdict verdict, String code, TrialSpec spec) {
    Judge.Ruling ruling = new Judge(spec, watch, out, () -> "It was told so.").rule();
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

  private static TrialSpec spec(Expectation expectation) {
    try {
      return new TrialSpec(
          0,
          "c",
          expectation,
          Stage.LENGTH,
          500,
          200,
          20_000 * MS,
          Scene.of(Map.of(), 1),
          List.of());
    } catch (SettingsException e) {
      throw new IllegalStateException(e);
    }
  }
}
