package org.stopwell.rig.board;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.rig.wire.StageFields;
import org.stopwell.rig.wire.StageState;

/** The stage of an emulated board by a clock of the test's own: every way takes its time. */
class StageModelTest {
  private static final long MS = 1_000_000;

  private long nowNs;
  private final StageModel stage = new StageModel(() -> nowNs);

  @BeforeEach
  void somewhere() {
    nowNs = 5_000 * MS;
    assertState(StageState.RESTING, 3_000, stage.ask());
  }

  /** 3 mm at 5 mm/s: 600 ms. */
  @Test
  void theHomeSwitchIsReachedAtSeekingSpeed() {
    assertState(StageState.HOMING, 3_000, stage.home());
    assertState(StageState.HOMING, 1_500, after(300));
    assertFalse(stage.ask().homed());
    assertFalse(stage.ask().atHome());
    assertState(StageState.HOMING, 5, after(299));
    assertState(StageState.ARRIVED, 0, after(1));
    assertTrue(stage.ask().homed());
    assertTrue(stage.ask().atHome());
  }

  @ParameterizedTest
  @CsvSource({"10_000, 14_000", "10_000, 6_000"})
  void aWayTakesItsTimeInEitherDirection(String from, String to) {
    int start = Integer.parseInt(from.replace("_", ""));
    int end = Integer.parseInt(to.replace("_", ""));
    homeAndGoTo(start);
    assertState(StageState.MOVING, start, stage.move(end, 8_000));
    for (int ms = 100; ms < 500; ms += 100) {
      assertState(StageState.MOVING, start + (end - start) / 500 * ms, after(100));
    }
    assertState(StageState.ARRIVED, end, after(100));
    assertState(StageState.ARRIVED, end, after(100));
  }

  @Test
  void whileItMovesItTakesNoOtherOrderAndGoesOn() {
    homeAndGoTo(10_000);
    stage.move(14_000, 8_000);
    nowNs += 100 * MS;
    assertState(StageState.BUSY, 10_800, stage.move(1_000, 8_000));
    assertState(StageState.BUSY, 10_800, stage.home());
    assertState(StageState.MOVING, 11_600, after(100));
  }

  @Test
  void aStopLeavesItWhereItIs() {
    homeAndGoTo(10_000);
    stage.move(6_000, 8_000);
    nowNs += 100 * MS;
    assertState(StageState.STOPPED, 9_200, stage.stop());
    assertState(StageState.STOPPED, 9_200, after(300));
    assertTrue(stage.ask().homed());
  }

  @Test
  void aStageThatArrivedIsNotStoppedAnyMore() {
    homeAndGoTo(10_000);
    assertState(StageState.ARRIVED, 10_000, stage.stop());
    stage.leave();
    assertState(StageState.ARRIVED, 10_000, stage.ask());
  }

  @Test
  void aNewSessionLeavesItWhereItIs() {
    homeAndGoTo(10_000);
    stage.move(14_000, 8_000);
    nowNs += 100 * MS;
    stage.leave();
    assertState(StageState.LEFT_ALONE, 10_800, after(300));
  }

  /** After a second without a word it rests where it was at the end of that second. */
  @ParameterizedTest
  @CsvSource({"1000, MOVING, 12000", "1001, LEFT_ALONE, 12000", "5000, LEFT_ALONE, 12000"})
  void itGoesOnForOneSecondOfSilence(int silentMs, StageState state, int position) {
    homeAndGoTo(10_000);
    stage.move(30_000, 2_000);
    assertState(state, position, after(silentMs));
  }

  @Test
  void aWayThatEndsWithinTheSecondOfSilenceIsFinished() {
    homeAndGoTo(10_000);
    stage.move(11_000, 2_000);
    assertState(StageState.ARRIVED, 11_000, after(5_000));
  }

  @Test
  void withoutHomeItGoesNowhere() {
    assertState(StageState.NOT_HOMED, 3_000, stage.move(10_000, 5_000));
    assertState(StageState.RESTING, 3_000, after(500));
  }

  @ParameterizedTest
  @CsvSource({
    "200,   5000,  MOVING",
    "199,   5000,  OUTSIDE",
    "38000, 5000,  MOVING",
    "38001, 5000,  OUTSIDE",
    "5000,  1,     MOVING",
    "5000,  0,     OUTSIDE",
    "5000,  10000, MOVING",
    "5000,  10001, OUTSIDE",
  })
  void limitsOfPlaceAndSpeedAreThoseThatItStates(int place, long speed, StageState state) {
    homeAndGoTo(10_000);
    StageFields said = stage.move(place, speed);
    assertState(state, 10_000, said);
    assertEquals(200, said.leastMicrons());
    assertEquals(38_000, said.mostMicrons());
    assertEquals(10_000, said.fastestMicronsPerSecond());
    assertFalse(said.atFarLimit());
  }

  private void homeAndGoTo(int microns) {
    stage.home();
    after(600);
    stage.move(microns, 10_000);
    after(999);
    assertState(StageState.ARRIVED, microns, after(1));
  }

  /** What the stage says when it is asked again after a time. */
  private StageFields after(int ms) {
    nowNs += ms * MS;
    return stage.ask();
  }

  private static void assertState(StageState state, int microns, StageFields said) {
    assertEquals(state, said.state());
    assertEquals(microns, said.positionMicrons());
  }
}
