package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.Drive;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.fault.FaultKind;

/** What a record must show before it is named after a fault: just too little, and just enough. */
class DiagnosisLimitsTest {
  private static final int STEPS = 800;

  /** From here on the file has been in the canal for more than ten samples. */
  private static final int FROM = 300;

  @Test
  void aSoundTraceShowsNothing() {
    assertShows(null, (ms, in, out) -> {});
  }

  @ParameterizedTest
  @CsvSource({
    "PORT_GONE, PORT_GONE",
    "NO_ANSWER, NO_ANSWER",
    "SESSION_LOST, SESSION_LOST",
    "BAD_FRAMES, BAD_FRAMES",
    "WATCHDOG, WATCHDOG",
    "REFUSED, MOUNT_REFUSED",
    "LATE, HOST_STALL",
    "BAD_TRUTH, BAD_TRUTH",
  })
  void aFaultOfTheRigIsNamedByItsCode(String code, FaultKind kind) {
    byte[] trace = MadeTrace.of(10, (ms, in, out) -> {});
    assertEquals(Optional.of(kind), Diagnosis.of(MadeTrace.result(Verdict.RIG_FAULT, code), trace));
    assertEquals(
        Optional.empty(),
        Diagnosis.of(MadeTrace.result(Verdict.FAIL, code), trace),
        "no rig fault");
  }

  @Test
  void theStopLineShowsInOneStep() {
    assertShows(FaultKind.STOP_PRESSED, (ms, in, out) -> in.stopLine = ms == FROM);
  }

  @ParameterizedTest
  @CsvSource({"-1", "5"})
  void aCountOfFrequenciesThatNobodyHasIsNonsense(int count) {
    assertShows(
        FaultKind.NONSENSE,
        (ms, in, out) -> in.frequencyCount = ms == FROM ? count : in.frequencyCount);
  }

  @Test
  void theLeastIntegerIsNoSpeed() {
    assertShows(
        FaultKind.NONSENSE,
        (ms, in, out) -> in.speedMilliRpm = ms == FROM ? Integer.MIN_VALUE : in.speedMilliRpm);
  }

  @ParameterizedTest
  @CsvSource({"6000,", "5999, LOW_SUPPLY"})
  void aSupplyBelowHalfOfItsMostIsLow(int milliVolts, @Nullable FaultKind kind) {
    assertShows(
        kind, (ms, in, out) -> in.supplyMilliVolts = ms == FROM ? milliVolts : in.supplyMilliVolts);
  }

  @ParameterizedTest
  @CsvSource({"0,", "1, LOST_READINGS", "20000000, LOST_READINGS", "20000001, OLD_READINGS"})
  void aReadingThatAgesIsLostAndBeyondTwentyMillisecondsOld(long ageNs, @Nullable FaultKind kind) {
    assertShows(kind, (ms, in, out) -> in.linkAgeNs = ms == FROM ? ageNs : 0);
  }

  @ParameterizedTest
  @CsvSource({"40,", "41, SAMPLES_STOP"})
  void samplesStopWhenTheLastIsOlderThanFortyMilliseconds(int age, @Nullable FaultKind kind) {
    assertShows(
        kind,
        (ms, in, out) -> {
          if (ms >= FROM && ms <= FROM + age) {
            in.sampleSequence = FROM / 10 + 1;
            in.sampleTimeNs = FROM * MadeTrace.MS;
            set(in, 9_000_000, 7_000_000);
          }
        });
  }

  @Test
  void aRailedConverterShowsInOneStep() {
    assertShows(FaultKind.SATURATED, (ms, in, out) -> in.railed = ms == FROM);
  }

  @ParameterizedTest
  @CsvSource({"149, 149, SHORT_CIRCUIT", "150, 149,", "149, 150,"})
  void aShortIsBelowAHundredAndFiftyOhmAtBothFrequencies(
      int low, int high, @Nullable FaultKind kind) {
    // To the short and back again by the same factor at both, so that it is no jump of one.
    assertShows(
        kind == null ? FaultKind.JUMP : kind,
        (ms, in, out) -> {
          if (sampleAt(ms, FROM, 1)) {
            set(in, low * 1000, high * 1000);
          }
        });
  }

  @Test
  void aCircuitThatOpensIsOpenAndOneThatClosesAgainBounces() {
    assertShows(
        FaultKind.OPEN_CIRCUIT,
        (ms, in, out) -> {
          if (ms >= FROM) {
            set(in, 1_000_000_000 + ms / 10, 1_000_000_000);
          }
        });
    assertShows(
        FaultKind.BOUNCE,
        (ms, in, out) -> {
          if (sampleAt(ms, FROM, 1)) {
            set(in, 1_000_000_000, 1_000_000_000);
          }
        });
  }

  @ParameterizedTest
  @CsvSource({"5,", "6, FROZEN_SIGNAL"})
  void fiveRepeatedSamplesInTheCanalAreFrozen(int equal, @Nullable FaultKind kind) {
    assertShows(
        kind,
        (ms, in, out) -> {
          if (sampleAt(ms, FROM, equal)) {
            set(in, 9_001_000, 7_001_000);
          }
        });
  }

  @ParameterizedTest
  @CsvSource({"5,", "6, FROZEN_CHANNEL"})
  void fiveRepeatsOfOneChannelBesideALivingOneAreFrozen(int equal, @Nullable FaultKind kind) {
    assertShows(
        kind,
        (ms, in, out) -> {
          if (sampleAt(ms, FROM, equal)) {
            in.zRealMilliOhms[1] = 7_001_000;
          }
        });
  }

  @ParameterizedTest
  @CsvSource({"1.045, 0.5,", "1.06, 0.5, JUMP", "1.06, 3, JUMP", "1.06, 4, NOISE"})
  void aStepOfOneFrequencyIsAJumpAndFourAreNoise(
      double factor, double steps, @Nullable FaultKind kind) {
    assertShows(
        kind,
        (ms, in, out) -> {
          if (raised(ms, steps)) {
            in.zRealMilliOhms[1] = (int) (in.zRealMilliOhms[1] * factor);
          }
        });
  }

  @ParameterizedTest
  @CsvSource({"1.06, 3,", "1.06, 4, HUM", "1.045, 8,"})
  void fourStepsOfBothFrequenciesAreHum(double factor, double steps, @Nullable FaultKind kind) {
    assertShows(
        kind,
        (ms, in, out) -> {
          if (raised(ms, steps)) {
            set(in, (int) (in.zRealMilliOhms[0] * factor), (int) (in.zRealMilliOhms[1] * factor));
          }
        });
  }

  @ParameterizedTest
  @CsvSource({"440000, 30,", "440200, 9,", "440200, 10, OVERSPEED"})
  void tenStepsBeyondTheSpeedByFourTenthsAreTooFast(
      int speed, int steps, @Nullable FaultKind kind) {
    assertShows(
        kind,
        (ms, in, out) ->
            in.speedMilliRpm = ms >= FROM && ms < FROM + steps ? speed : in.speedMilliRpm);
  }

  @ParameterizedTest
  @CsvSource({"300,", "302, RUNS_ON"})
  void aMotorThatTurnsThreeHundredMillisecondsAfterItsStopRunsOn(
      int stops, @Nullable FaultKind kind) {
    assertShows(
        kind,
        (ms, in, out) -> {
          if (ms >= FROM) {
            out.drive = Drive.BRAKE;
            in.speedMilliRpm = ms < FROM + stops ? 300_000 : 0;
          }
        });
  }

  @ParameterizedTest
  @CsvSource({"4,", "5, REVERSED"})
  void fiveStepsAgainstTheCommandAreReversed(int steps, @Nullable FaultKind kind) {
    assertShows(
        kind,
        (ms, in, out) ->
            in.speedMilliRpm = ms >= FROM && ms < FROM + steps ? -300_000 : in.speedMilliRpm);
  }

  @Test
  void turningBackwardsOnCommandIsNotReversed() {
    assertShows(
        null,
        (ms, in, out) -> {
          out.drive = ms >= FROM ? Drive.BACKWARD : Drive.FORWARD;
          in.speedMilliRpm = ms > FROM + 20 ? -300_000 : 300_000;
        });
  }

  @ParameterizedTest
  @CsvSource({"2, 6000,", "3, 6000, JAM", "3, 5999, SPEED_LOST"})
  void threeStepsAtTheTorqueLimitWithoutSpeedAreAJam(
      int steps, int torque, @Nullable FaultKind kind) {
    assertShows(
        kind,
        (ms, in, out) -> {
          if (ms >= FROM && ms < FROM + steps) {
            in.speedMilliRpm = 0;
            in.torqueMicroNewtonMetres = torque;
          }
        });
  }

  @ParameterizedTest
  @CsvSource({"2,", "3, SPEED_LOST"})
  void threeStepsWithCurrentAndWithoutSpeedLoseTheSpeed(int steps, @Nullable FaultKind kind) {
    assertShows(
        kind,
        (ms, in, out) -> in.speedMilliRpm = ms >= FROM && ms < FROM + steps ? 0 : in.speedMilliRpm);
  }

  @ParameterizedTest
  @CsvSource({"50,", "51, SPEED_LOST"})
  void aMotorThatNeverTurnedHasFiftySteps(int steps, @Nullable FaultKind kind) {
    // The first command counts from the step after it.
    assertShows(kind, (ms, in, out) -> in.speedMilliRpm = ms < steps ? 0 : in.speedMilliRpm);
  }

  @ParameterizedTest
  @CsvSource({"7,", "8, DEAD_MOTOR"})
  void eightStepsWithoutCurrentAreADeadMotor(int steps, @Nullable FaultKind kind) {
    assertShows(
        kind,
        (ms, in, out) ->
            in.currentMilliAmps = ms >= FROM && ms < FROM + steps ? 0 : in.currentMilliAmps);
  }

  @ParameterizedTest
  @CsvSource({"3, 240000,", "4, 240000, SPEED_NOISE", "8, 265000,"})
  void fourStepsOfTheSpeedByAShareAreNoise(int steps, int speed, @Nullable FaultKind kind) {
    assertShows(
        kind,
        (ms, in, out) -> {
          boolean low = ms >= FROM && (ms < FROM + steps ? (ms - FROM) % 2 == 0 : steps % 2 == 1);
          in.speedMilliRpm = low ? speed : 300_000;
        });
  }

  /** In the air: a circuit that closes four times before the file is in the canal bounces. */
  @ParameterizedTest
  @CsvSource({"3,", "4, BOUNCE"})
  void aContactThatClosesFourTimesInTheAirBounces(int times, @Nullable FaultKind kind) {
    assertShows(
        kind,
        (ms, in, out) -> {
          int sample = ms / 10;
          boolean open = sample < 2 * times && sample % 2 == 0;
          int ohms = (open ? 1_000_000_000 : 500_000_000) + sample;
          set(in, ohms, ohms);
        });
  }

  private static void assertShows(@Nullable FaultKind kind, MadeTrace.Change change) {
    assertEquals(
        Optional.ofNullable(kind),
        Diagnosis.of(MadeTrace.result(Verdict.FAIL, "LOCKED"), MadeTrace.of(STEPS, change)));
  }

  /** Whether a step belongs to one of so many samples from a time on. */
  private static boolean sampleAt(int ms, int from, int count) {
    return ms >= from && ms < from + 10 * count;
  }

  /** So many steps of the value between its two levels; a half means up and never down. */
  private static boolean raised(int ms, double steps) {
    int sample = (ms - FROM) / 10;
    return ms >= FROM && (sample < steps ? sample % 2 == 0 : steps % 2 != 0);
  }

  private static void set(ControllerInput in, int low, int high) {
    in.zRealMilliOhms[0] = low;
    in.zRealMilliOhms[1] = high;
  }
}
