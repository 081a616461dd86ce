package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.CanalBench.Policy;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;

/** After a stop the signal may do what it likes: only a file that is drawn back turns again. */
class RestartTest {
  private static final int SEEDS = 10;

  @ParameterizedTest
  @ValueSource(doubles = {8_000, 10_000, 15_000})
  void aResistanceThatJumpsIntoTheLeadAtTheStandoffDoesNotRearm(double ohms) {
    for (Policy policy : new Policy[] {Policy.RATIO, Policy.RESISTANCE}) {
      CanalBench bench = atTheStandoff(policy);
      bench.run(1_000);
      bench.seriesOhms = ohms;
      bench.run(3_000);
      boolean sound = bench.out.trust == Trust.SURE || bench.out.cause == Cause.WIDE;
      assertTrue(sound, "the reading has settled: " + policy);
      staysAtRest(bench, policy + ", " + ohms + " ohm");
    }
  }

  @ParameterizedTest
  @EnumSource(names = {"RATIO", "RESISTANCE", "LOCATOR"})
  void aReadingThatJumpsByOneAndAHalfMillimetresAtRestDoesNotRearm(Policy policy) {
    CanalBench bench = atTheStandoff(policy);
    bench.run(1_000);
    bench.offsetMicrons = 1_500;
    bench.run(3_000);
    staysAtRest(bench, policy.toString());
  }

  @ParameterizedTest
  @EnumSource(names = {"RATIO", "RESISTANCE"})
  void aResistanceThatGrowsByEightKilohmsInFiveSecondsDoesNotRearm(Policy policy) {
    CanalBench bench = atTheStandoff(policy);
    bench.run(1_000);
    bench.driftOhmsPerSecond = 1_600;
    bench.run(5_000);
    bench.driftOhmsPerSecond = 0;
    assertTrue(bench.out.remainingMicrons > bench.remainingMicrons + 1_000, "it seems withdrawn");
    bench.run(1_000);
    staysAtRest(bench, policy.toString());
  }

  @Test
  void aDistanceThatDriftsWithinItsBudgetDoesNotRearm() {
    CanalBench bench = atTheStandoff(Policy.LOCATOR);
    bench.run(1_000);
    bench.driftMicronsPerSecond = 500;
    bench.run(5_000);
    staysAtRest(bench, "0.5 mm/s");
  }

  @Test
  void aDriftBeyondTheDeclaredOneRearmsSoTheBudgetIsWhatCounts() {
    CanalBench bench = atTheStandoff(Policy.LOCATOR);
    bench.run(1_000);
    bench.driftMicronsPerSecond = 1_500;
    bench.run(3_000);
    assertEquals(State.TURNING, bench.out.state);
  }

  @ParameterizedTest
  @EnumSource(names = {"RATIO", "RESISTANCE", "LOCATOR"})
  void severalJumpsOfWhichEachIsLessThanTheWithdrawalDoNotRearm(Policy policy) {
    for (int microns : new int[] {300, 450, 600}) {
      CanalBench bench = atTheStandoff(policy);
      bench.run(1_000);
      for (int i = 0; i < 5; i++) {
        bench.offsetMicrons += microns;
        bench.run(150);
      }
      bench.run(1_000);
      staysAtRest(bench, policy + ", " + microns);
    }
  }

  @ParameterizedTest
  @EnumSource(names = {"RATIO", "RESISTANCE", "LOCATOR"})
  void aJumpAndADriftTogetherDoNotRearm(Policy policy) {
    CanalBench bench = atTheStandoff(policy);
    bench.run(1_000);
    bench.offsetMicrons = 700;
    bench.driftMicronsPerSecond = policy == Policy.LOCATOR ? 450 : 0;
    bench.driftOhmsPerSecond = 1_500;
    bench.run(4_000);
    staysAtRest(bench, policy.toString());
  }

  @ParameterizedTest
  @CsvSource({
    "RATIO,15",
    "RATIO,60",
    "RATIO,1500",
    "RESISTANCE,1500",
    "LOCATOR,15",
    "LOCATOR,1500"
  })
  void aLeadThatBreaksAndMendsAtAHigherResistanceDoesNotRearm(Policy policy, int ms) {
    CanalBench bench = atTheStandoff(policy);
    bench.run(1_000);
    bench.open = true;
    bench.run(ms);
    bench.open = false;
    bench.seriesOhms = 8_000;
    bench.offsetMicrons = policy == Policy.LOCATOR ? 2_000 : 0;
    bench.run(3_000);
    staysAtRest(bench, policy + ", " + ms + " ms");
  }

  /** Jumps of more than noise, drifts within the declared one, and losses of contact. */
  @ParameterizedTest
  @EnumSource(names = {"RATIO", "RESISTANCE", "LOCATOR"})
  void whateverTheSignalDoesTheMotorStaysAtRestAsLongAsTheFileDoes(Policy policy) {
    for (int seed = 1; seed <= SEEDS; seed++) {
      Random random = new Random(seed);
      CanalBench bench = atTheStandoff(policy);
      StringBuilder done = new StringBuilder(policy + ", seed " + seed + ":");
      for (int i = 0; i < 25; i++) {
        disturb(bench, random, done);
        bench.run(20 + random.nextInt(800));
        staysAtRest(bench, done.toString());
      }
    }
  }

  private static void disturb(CanalBench bench, Random random, StringBuilder done) {
    int kind = random.nextInt(5);
    double share = random.nextDouble();
    done.append(' ').append(kind).append(' ').append(share);
    switch (kind) {
      case 0 -> {
        double ohms = (random.nextBoolean() ? -1 : 1) * (2_000 + 18_000 * share);
        bench.seriesOhms = Math.max(0, bench.seriesOhms + ohms);
        bench.offsetMicrons += bench.policy == Policy.LOCATOR ? ohms / 4 : 0;
      }
      case 1 -> {
        bench.driftOhmsPerSecond = 1_600 * share;
        bench.driftMicronsPerSecond = bench.policy == Policy.LOCATOR ? 500 * share : 0;
      }
      case 2 -> {
        bench.open = true;
        bench.run(5 + (int) (60 * share));
        bench.open = false;
      }
      case 3 -> {
        bench.dry = true;
        bench.run(5 + (int) (600 * share));
        bench.dry = false;
      }
      default -> {
        bench.driftOhmsPerSecond = 0;
        bench.driftMicronsPerSecond = 0;
      }
    }
  }

  @ParameterizedTest
  @CsvSource({"RATIO,5", "RATIO,15", "RESISTANCE,5", "RESISTANCE,15"})
  void aLeadThatBreaksForAMomentWhileTurningAndMendsAtAHigherResistanceHolds(
      Policy policy, int ms) {
    CanalBench bench = entered(policy, Map.of());
    bench.leadTo(1_200);
    bench.dry = true;
    bench.run(ms);
    bench.dry = false;
    bench.seriesOhms = 8_000;
    bench.run(40);
    assertEquals(State.HOLDING, bench.out.state);
    assertEquals(Cause.JUMPY, bench.out.cause);
    bench.run(3_000);
    staysAtRest(bench, policy + ", " + ms + " ms");
  }

  @ParameterizedTest
  @CsvSource({
    "RATIO,3000,1300",
    "RATIO,6000,1300",
    "RATIO,1500,1600",
    "RESISTANCE,3000,1700",
    "RESISTANCE,6000,1400",
    "LOCATOR,3000,1400",
    "LOCATOR,6000,1400"
  })
  void aFileThatIsDrawnOutAtThePaceOfAHandRearms(Policy policy, int micronsPerSecond, int microns) {
    CanalBench bench = atTheStandoff(policy);
    bench.run(2_000);
    draw(bench, microns, micronsPerSecond);
    bench.run(250);
    assertEquals(2, bench.starts, policy + ": " + bench.states);
  }

  @Test
  void oneNoisySampleDoesNotForceThePersonToLeaveTheCanal() {
    for (int microns : new int[] {200, 400, 3_000}) {
      CanalBench bench = atTheStandoff(Policy.LOCATOR);
      bench.run(1_000);
      bench.offsetMicrons = microns;
      bench.run(5);
      bench.offsetMicrons = 0;
      bench.run(500);
      draw(bench, 1_500, 4_000);
      bench.run(250);
      assertEquals(2, bench.starts, microns + " um");
    }
  }

  @Test
  void afterAJumpAFileThatIsFollowedOutOfTheCanalAndPutBackStartsAgain() {
    CanalBench bench = atTheStandoff(Policy.RATIO);
    bench.run(1_000);
    bench.seriesOhms = 4_000;
    bench.run(2_000);
    draw(bench, 2_000, 4_000);
    bench.run(1_000);
    assertEquals(State.HOLDING, bench.out.state, "a withdrawal inside of the canal is not enough");
    bench.leadTo(8_200);
    bench.open = true;
    bench.run(300);
    bench.seriesOhms = 0;
    putBack(bench);
    assertEquals(State.TURNING, bench.out.state);
  }

  @ParameterizedTest
  @EnumSource(names = {"RATIO", "RESISTANCE"})
  void aFileThatIsDrawnOutAndPutBackStartsAgain(Policy policy) {
    CanalBench bench = atTheStandoff(policy);
    bench.in.torqueMicroNewtonMetres = 6_000; // nothing starts on the way out
    bench.leadTo(8_200);
    bench.open = true;
    bench.run(300);
    assertEquals(State.PARKED, bench.out.state);
    bench.in.torqueMicroNewtonMetres = 0;
    putBack(bench);
    assertEquals(State.TURNING, bench.out.state);
  }

  /** The approach gives a distance from 3.2 mm on, and holds there until it is sure of it. */
  @Test
  void aFileThatWasHeldWhereTheCurveBeginsStartsAgainOnceItWasDrawnOutAndPutBack() {
    CanalBench bench = new CanalBench(Policy.APPROACH, Map.of());
    bench.noise = 0.1;
    bench.remainingMicrons = 7_500;
    bench.open = true;
    bench.run(300);
    bench.open = false;
    for (int i = 0; i < 8_000 && bench.out.state != State.HOLDING; i++) {
      bench.feedMicronsPerSecond = 1_000;
      bench.step();
    }
    assertTrue(bench.out.remainingMicrons > 2_500, bench.out.remainingMicrons + " um");
    bench.leadTo(7_500);
    bench.run(300);
    assertEquals(1, bench.starts, "beyond the curve no withdrawal can be measured");
    bench.open = true;
    bench.run(300);
    assertEquals(State.PARKED, bench.out.state);
    bench.open = false;
    bench.run(400);
    assertEquals(2, bench.starts);
  }

  @Test
  void afterAJumpADepthAxisStillPaysTheWithdrawal() {
    CanalBench bench = entered(Policy.RATIO, Map.of());
    bench.in.insertionPresent = true;
    bench.in.insertionMicrons = 15_400;
    toTheStandoff(bench);
    bench.run(1_000);
    bench.seriesOhms = 8_000;
    bench.run(2_000);
    assertEquals(State.HOLDING, bench.out.state);
    bench.in.insertionMicrons -= 1_000;
    bench.remainingMicrons += 1_000;
    bench.run(400);
    assertEquals(State.TURNING, bench.out.state);
  }

  @ParameterizedTest
  @ValueSource(strings = {"none", "hold"})
  void aTipThatDriesInPlaceForAQuarterOfEachSecondNeverStartsTheMotor(String onNone) {
    CanalBench bench = entered(Policy.RATIO, Map.of("on_none", onNone));
    bench.leadTo(3_000);
    bench.run(300);
    assertTrue(bench.out.drive.turns());
    for (int second = 0; second < 8; second++) {
      bench.dry = true;
      bench.run(250);
      bench.dry = false;
      bench.run(750);
      assertEquals(State.PARKED, bench.out.state, "second " + second);
    }
    bench.in.demand = false;
    bench.run(20);
    bench.in.demand = true;
    bench.run(300);
    assertEquals(
        onNone.equals("none"),
        bench.out.drive.turns(),
        "after a hold the file must also leave the canal");
    bench.dry = true;
    bench.run(300);
    bench.in.demand = false;
    bench.run(20);
    bench.in.demand = true;
    bench.dry = false;
    bench.run(300);
    assertEquals(State.TURNING, bench.out.state, "pressed anew while the signal says outside");
  }

  @ParameterizedTest
  @ValueSource(booleans = {false, true})
  void aReadingThatIsWorthNothingStartsNothingUnlessTheDemandIsPressedAnew(boolean pressed) {
    CanalBench bench =
        new CanalBench(
            Policy.RATIO,
            Map.of("on_none", "none", "on_doubtful", "none"),
            Map.of("trust_rise_ms", 500));
    bench.dry = true;
    bench.run(300);
    bench.dry = false;
    bench.remainingMicrons = 3_000;
    bench.run(150);
    assertEquals(Trust.NONE, bench.out.trust);
    assertEquals(State.PARKED, bench.out.state);
    bench.in.demand = !pressed;
    bench.run(5);
    bench.in.demand = true;
    bench.run(200);
    assertEquals(pressed ? State.TURNING : State.PARKED, bench.out.state);
    bench.run(800);
    assertEquals(Trust.SURE, bench.out.trust);
    assertEquals(State.TURNING, bench.out.state);
  }

  private static void staysAtRest(CanalBench bench, String what) {
    assertEquals(1, bench.starts, what + ": " + bench.states);
  }

  private static CanalBench entered(Policy policy, Map<String, Object> length) {
    CanalBench bench = new CanalBench(policy, length);
    bench.remainingMicrons = 8_200;
    bench.open = true;
    bench.run(300);
    putBack(bench);
    assertEquals(State.TURNING, bench.out.state, policy.toString());
    return bench;
  }

  private static void putBack(CanalBench bench) {
    bench.open = false;
    bench.leadTo(7_500);
    for (int i = 0; i < 1_500 && !bench.out.drive.turns(); i++) {
      bench.feedMicronsPerSecond = bench.remainingMicrons > 4_000 ? 2_000 : 0;
      bench.step();
    }
    bench.feedMicronsPerSecond = 0;
  }

  private static CanalBench atTheStandoff(Policy policy) {
    CanalBench bench = entered(policy, Map.of());
    toTheStandoff(bench);
    return bench;
  }

  private static void draw(CanalBench bench, int microns, int micronsPerSecond) {
    double goal = bench.remainingMicrons + microns;
    bench.feedMicronsPerSecond = -micronsPerSecond;
    while (bench.remainingMicrons < goal) {
      bench.step();
    }
    bench.feedMicronsPerSecond = 0;
  }

  private static void toTheStandoff(CanalBench bench) {
    for (int i = 0; i < 20_000 && bench.out.state != State.HOLDING; i++) {
      bench.feedMicronsPerSecond = 800;
      bench.step();
    }
    bench.feedMicronsPerSecond = 0;
    assertEquals(Reason.STANDOFF_REACHED, bench.out.reason);
  }
}
