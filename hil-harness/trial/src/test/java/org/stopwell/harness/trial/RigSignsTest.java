package org.stopwell.harness.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Reason;
import org.stopwell.rig.bench.Truth;

/** When a failure of the rig is one: each limit from both sides. */
class RigSignsTest {
  private static final long MS = 1_000_000;
  private static final String NONE = "";

  private final RigSigns signs = new RigSigns();
  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private final Truth truth = new Truth();
  private long nowNs;

  @ParameterizedTest
  @CsvSource({"99, ''", "100, SPEED_SENSOR"})
  void aTurningFileWithoutMeasuredSpeedForATenthOfASecondHasALostSensor(int ms, String code) {
    turning(300_000, 300_000, 200);
    turning(0, 300_000, 200);
    steps(ms - 1);
    assertFailure(code);
  }

  @ParameterizedTest
  @CsvSource({"99, ''", "100, MOTOR"})
  void aMotorWithoutCurrentForATenthOfASecondIsBroken(int ms, String code) {
    turning(300_000, 300_000, 200);
    turning(0, 0, 0);
    steps(ms - 1);
    assertFailure(code);
  }

  /** A file that is held fast takes current; a crawl below 20 rpm is no turning. */
  @Test
  void aStallUnderCurrentAndACrawlAreNoFailureOfTheRig() {
    turning(0, 0, 1);
    steps(300);
    assertFailure(NONE);
    turning(0, 20_000, 1);
    steps(300);
    assertFailure(NONE);
    turning(0, 20_001, 1);
    steps(300);
    assertFailure("SPEED_SENSOR");
  }

  @Test
  void readingsThatDidNotArriveAreNoSilence() {
    turning(0, 300_000, 200);
    in.linkAgeNs = 1;
    steps(300);
    assertFailure(NONE);
  }

  @ParameterizedTest
  @CsvSource({"20000000, FRONT_END", "20000001, LINK_LOST"})
  void aStaleSignalIsThatOfTheLinkWhenItsReadingIsOld(long ageNs, String code) {
    in.linkAgeNs = ageNs;
    step();
    assertFailure(NONE);
    out.reason = Reason.SIGNAL_STALE;
    assertFailure(code);
    out.reason = Reason.STARTED_UP;
    out.cause = Cause.STALE;
    assertFailure(code);
  }

  @ParameterizedTest
  @CsvSource({"149, 149, LEADS", "150, 149, ''", "149, 150, ''"})
  void aShortIsBelowAHundredAndFiftyOhmAtEveryFrequency(int low, int high, String code) {
    sample(3_000, low, high);
    assertFailure(code);
  }

  /** Closed at 3.5 mm; open 0.2 mm deeper is a broken lead, higher it may be the air. */
  @ParameterizedTest
  @CsvSource({
    "99999, 3300, 1000000, 1000000, LEADS",
    "99999, 3301, 1000000, 1000000, ''",
    "100000, 3300, 1000000, 1000000, ''",
    "99999, 3300, 999999, 1000000, ''",
    "99999, 3300, 1000000, 999999, ''",
  })
  void aCircuitThatWasClosedHereIsBrokenWhenItOpens(
      int closedOhms, int atMicrons, int low, int high, String code) {
    sample(3_500, closedOhms, 7_000);
    sample(atMicrons, low, high);
    assertFailure(code);
  }

  /**
   * A pecking file leaves the fluid, and readings are late both ways: closed 0.1 mm above the
   * surface, open 0.13 mm below it. Only 0.2 mm below it the tip was in the fluid for certain.
   */
  @ParameterizedTest
  @CsvSource({"3200, LEADS", "3199, ''", "3130, ''", "2999, ''", "0, LEADS"})
  void aTipThatMayHaveBeenAboveTheFluidMayBeOpen(int fluidLevelMicrons, String code) {
    sample(3_500, 9_000, 7_000);
    truth.fluidLevelMicrons = fluidLevelMicrons;
    sample(3_000, 2_000_000, 2_000_000);
    assertFailure(code);
  }

  /** Twenty living samples, then five repeats over 20 µm of travel. */
  @ParameterizedTest
  @CsvSource({"20, 5, 20, FRONT_END", "19, 5, 20, ''", "20, 4, 20, ''", "20, 5, 19, ''"})
  void aChannelThatLivedAndStaysWhileTheFileMovesIsFrozen(
      int alive, int repeats, int microns, String code) {
    int last = 0;
    for (int i = 0; i < alive; i++) {
      last = 9_000 + i % 2;
      sample(3_000, last, 7_000 + i % 2);
    }
    for (int i = 1; i <= repeats; i++) {
      sample(3_000 - (i == repeats ? microns : 0), last, 7_100 + i);
    }
    assertFailure(code);
  }

  @Test
  void outsideOfTheCanalNothingIsFrozen() {
    for (int i = 0; i < 40; i++) {
      sample(3_000 - 10 * i, i < 25 ? 9_000 + i % 2 : 100_000, 7_000 + i);
    }
    assertFailure(NONE);
  }

  @Test
  void aSampleThatComesTwiceCountsOnce() {
    for (int i = 0; i < 25; i++) {
      sample(3_000, 9_000 + i % 2, 7_000 + i);
    }
    for (int i = 0; i < 20; i++) {
      truth.remainingMicrons -= 10;
      step();
    }
    assertFailure(NONE);
  }

  private void turning(int measured, int real, int milliAmps) {
    out.drive = Drive.FORWARD;
    in.speedMilliRpm = measured;
    truth.speedMilliRpm = real;
    in.currentMilliAmps = milliAmps;
    step();
  }

  private void sample(int microns, int low, int high) {
    truth.remainingMicrons = microns;
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = 2;
    in.sampleSequence++;
    in.zRealMilliOhms[0] = low * 1_000;
    in.zRealMilliOhms[1] = high * 1_000;
    step();
  }

  private void steps(int count) {
    for (int i = 0; i < count; i++) {
      step();
    }
  }

  private void step() {
    nowNs += MS;
    signs.look(nowNs, in, out, truth);
  }

  private void assertFailure(String code) {
    assertEquals(code, signs.failed(out).map(RigSigns.Failure::code).orElse(NONE));
  }
}
