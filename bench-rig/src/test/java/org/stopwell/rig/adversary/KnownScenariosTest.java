package org.stopwell.rig.adversary;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.frame.Stage;

/** Scenarios that the adversary has found and that broke a controller. */
class KnownScenariosTest {
  private static final int FOR_EVER = 60_000;

  @ParameterizedTest
  @EnumSource(Policy.class)
  void aJumpOfTheReadingAtRestDoesNotStartTheMotor(Policy policy) {
    Kind kind = policy == Policy.LOCATOR ? Kind.DISTANCE : Kind.SERIES;
    for (double size : policy == Policy.LOCATOR ? at(1_500, 2_800) : at(5_000, 8_000, 10_000)) {
      assertHolds(
          Setup.of(policy, Stage.LENGTH),
          List.of(new Move(1_000, 1_000)),
          new Trouble(kind, true, 1_000, FOR_EVER, size));
    }
  }

  @Test
  void aStepOfTheSignalThatTheEstimateSmoothesDoesNotStartTheMotor() {
    assertHolds(
        Setup.of(Policy.APPROACH, Stage.RECHECK),
        List.of(new Move(670, -1_895), new Move(1_249, 1_815)),
        new Trouble(Kind.HIGH_GAIN, true, 500, 900, 0.7));
    assertHolds(
        Setup.of(Policy.APPROACH, Stage.SHAPE),
        List.of(new Move(1_500, 1_400)),
        new Trouble(Kind.HIGH_GAIN, true, 352, 2_728, 1.285));
  }

  @ParameterizedTest
  @EnumSource(Policy.class)
  void aTipThatDriesForAMomentDoesNotStopAndStartTheMotor(Policy policy) {
    for (int forMs : new int[] {250, 900}) {
      assertHolds(
          Setup.of(policy, Stage.OPEN),
          List.of(new Move(1_000, 200)),
          new Trouble(Kind.DRY, false, 2_500, forMs, 1),
          new Trouble(Kind.DRY, false, 4_500, forMs, 1));
    }
  }

  @ParameterizedTest
  @EnumSource(Policy.class)
  void aTorqueAtTheCeilingIsAnsweredAtOnce(Policy policy) {
    for (Stage stage : Stage.values()) {
      assertHolds(
          Setup.of(policy, stage),
          List.of(new Move(1_000, 200)),
          new Trouble(Kind.TORQUE, false, 2_000, 200, 3.1));
    }
  }

  @Test
  void aDriftBeforeTheStopDoesNotStretchTheWithdrawal() {
    assertHolds(
        Setup.of(Policy.RATIO, Stage.SHAPE),
        0,
        List.of(new Move(1_800, 1_800)),
        List.of(new Move(600, -1_500)),
        new Trouble(Kind.DRIFT, false, 700, 2_400, 1));
    assertHolds(
        Setup.of(Policy.RATIO, Stage.RECHECK),
        536,
        List.of(new Move(1_700, 1_700)),
        List.of(new Move(300, -1_900)),
        new Trouble(Kind.DRIFT, false, 680, FOR_EVER, 0.613));
  }

  private static double[] at(double... sizes) {
    return sizes;
  }

  private static void assertHolds(Setup setup, List<Move> feed, Trouble... troubles) {
    assertHolds(setup, 0, feed, List.of(), troubles);
  }

  private static void assertHolds(
      Setup setup, long seed, List<Move> feed, List<Move> rest, Trouble... troubles) {
    Scenario scenario = new Scenario(seed, feed, rest, List.of(troubles));
    List<Check> checks = Checks.of(setup, scenario);
    new Run(setup, scenario).play(checks);
    for (Check check : checks) {
      assertEquals(
          List.of(),
          check.margin() < 0 ? List.of(check.name()) : List.of(),
          setup + "\n  " + scenario);
    }
  }
}
