package org.stopwell.harness.claim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.function.IntUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.record.HeaderChanges;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

class ComparisonTest {
  private static final int MARGIN = 50;

  @Test
  void theSameBuildDiffersByNothing() {
    ComparedCondition c = compare(i -> 40 + 10 * (i % 9), i -> 40 + 10 * (i % 9), 30);
    assertTrue(c.paired() && c.isConstant());
    assertEquals(OptionalDouble.of(0), c.shift());
    assertEquals(Optional.of(new Interval(0, 0)), c.shiftInterval());
    assertEquals(Verdict.PASS, c.verdict());
  }

  @Test
  void aRunComparedWithItselfPassesWithoutStopsAndWithOneTrialToo() {
    List<TrialResult> unstopped = new ArrayList<>();
    for (int i = 0; i < 5; i++) {
      unstopped.add(
          SampleRun.unstopped(
              i, "half-wet", Expectation.STOP, Verdict.PASS, "AS_EXPECTED", "The rig bounced."));
    }
    for (List<TrialResult> trials : List.of(unstopped, stops(i -> 40, 1), stops(i -> 600, 1))) {
      assertEquals(Verdict.PASS, Comparison.of(run(trials), run(trials), MARGIN).verdict());
    }
  }

  @Test
  void oneStopThatIsNotTheSameDecidesNothing() {
    assertEquals(Verdict.UNDECIDED, compare(i -> 40, i -> 41, 1).verdict());
  }

  @Test
  void otherTrialsOfCanalsToBeRefusedAreComparedByTheShareThatFails() {
    List<TrialResult> before = new ArrayList<>();
    List<TrialResult> after = new ArrayList<>();
    for (int i = 0; i < 30; i++) {
      TrialResult t = SampleRun.refusal(i);
      before.add(t);
      after.add(reseeded(t.with(Verdict.FAIL, "NOT_REFUSED", "It stopped.")));
    }
    List<Condition> dry = List.of(new Condition("dry", Expectation.REFUSE, 30, 500, 500));
    assertEquals(
        Verdict.FAIL,
        Comparison.of(new Comparison.Run(dry, before), new Comparison.Run(dry, after), MARGIN)
            .verdict());
  }

  @Test
  void pairingSeesAShiftThatTheSpreadWouldHide() {
    // Stops spread over ±400 µm; each moves by 60 ± 5 µm.
    Random random = new Random(1);
    int[] base = random.ints(40, -400, 400).toArray();
    ComparedCondition moved = compare(i -> base[i], i -> base[i] + 55 + i % 11, 40);
    assertEquals(Verdict.FAIL, moved.verdict(), moved.shiftInterval().toString());
    ComparedCondition near = compare(i -> base[i], i -> base[i] + 5 + i % 11, 40);
    assertEquals(Verdict.PASS, near.verdict(), near.shiftInterval().toString());
    assertEquals(1.0, near.spreadRatio().orElseThrow(), 0.02);
  }

  @Test
  void verdictsThatTurnBadMoreOftenThanChanceFail() {
    // Five of thirty turned from pass to fail, none the other way: p = 1/32.
    ComparedCondition c = compare(i -> 490, i -> i < 5 ? 501 : 490, 30);
    assertEquals(5, c.newlyFailed());
    assertTrue(c.failures().isWorse(1.0 / 32 + 1e-12), "the exact test of McNemar");
    assertFalse(c.failures().isWorse(1.0 / 32 - 1e-12), "the exact test of McNemar");
    assertEquals(Verdict.FAIL, c.verdict());
  }

  @Test
  void oneVerdictThatTurnedBadIsNotPassedOver() {
    ComparedCondition c = compare(i -> 490, i -> i == 7 ? 501 : 490, 30);
    assertFalse(c.failures().isWorse(0.5 - 1e-12));
    assertEquals(Verdict.UNDECIDED, c.verdict());
  }

  @Test
  void aFewNewRefusalsInEachConditionAreManyTogether() {
    // Nine conditions of 60 trials; four of each are newly refused.
    List<Condition> conditions = new ArrayList<>();
    List<TrialResult> before = new ArrayList<>();
    List<TrialResult> after = new ArrayList<>();
    for (int c = 0; c < 9; c++) {
      conditions.add(new Condition("c" + c, Expectation.STOP, 60, 500, 500));
      for (int i = 0; i < 60; i++) {
        TrialResult t = SampleRun.stop(60 * c + i, 10 * (i % 9)).with("c" + c);
        before.add(t);
        after.add(i % 15 == 7 ? refused(t) : t);
      }
    }
    Comparison comparison =
        Comparison.of(
            new Comparison.Run(conditions, before), new Comparison.Run(conditions, after), MARGIN);
    assertEquals(36, comparison.refusals().worse());
    assertTrue(comparison.conditions().stream().allMatch(c -> c.verdict() == Verdict.UNDECIDED));
    assertTrue(comparison.isWorseTogether());
    assertEquals(Verdict.FAIL, comparison.verdict());
  }

  @Test
  void aStopThatIsGoneIsWorseAlsoWhereNoVerdictFails() {
    List<TrialResult> before = stops(i -> 40 + i % 3, 30);
    List<TrialResult> after = new ArrayList<>(stops(i -> 41 + i % 4, 30));
    for (int i = 0; i < 6; i++) {
      after.set(
          i,
          SampleRun.unstopped(
              i, "half-wet", Expectation.STOP, Verdict.UNDECIDED, "TIME_LIMIT", "Out of time."));
    }
    ComparedCondition c = Comparison.of(run(before), run(after), MARGIN).conditions().get(0);
    assertEquals(0, c.newlyFailed());
    assertEquals(6, c.newlyWithoutStop());
    assertEquals(Verdict.FAIL, c.verdict());
  }

  @Test
  void refusalsOfOtherTrialsAreComparedToo() {
    List<TrialResult> after = new ArrayList<>();
    for (TrialResult t : stops(i -> 10 * (i % 9), 60)) {
      after.add(reseeded(t.index() % 3 == 0 ? refused(t) : t));
    }
    ComparedCondition c =
        Comparison.of(run(stops(i -> 10 * (i % 9), 60)), run(after), MARGIN).conditions().get(0);
    assertFalse(c.paired());
    assertEquals(20, c.newlyWithoutStop());
    assertEquals(Verdict.FAIL, c.verdict(), "20 of 60 refused, none before");
  }

  @Test
  void pairsOfOneCanalAreRepeats() {
    // Six canals move by 15 to 70 µm, ten trials in each: 60 trials show it, six canals do not.
    int[] moved = {15, 20, 30, 35, 40, 70};
    IntUnaryOperator was = i -> 10 * (i % 7);
    IntUnaryOperator is = i -> was.applyAsInt(i) + moved[i / 10] + i % 2;
    assertEquals(
        Verdict.PASS, Comparison.of(run(stops(was, 60)), run(stops(is, 60)), MARGIN).verdict());
    Comparison shared =
        Comparison.of(shared(stops(was, 60), 10), shared(stops(is, 60), 10), MARGIN);
    assertEquals(6, shared.conditions().get(0).canals());
    assertEquals(Verdict.UNDECIDED, shared.verdict());
    // Student's interval of 15.5, 20.5 … 70.5 with five degrees of freedom, t = 2.015048.
    double mean = 35.5;
    double sd = Math.sqrt((20 * 20 + 15 * 15 + 5 * 5 + 5 * 5 + 35 * 35) / 5.0);
    Interval interval = shared.conditions().get(0).shiftInterval().orElseThrow();
    assertEquals(mean - 2.015048 * sd / Math.sqrt(6), interval.low(), 1e-5);
    assertEquals(mean + 2.015048 * sd / Math.sqrt(6), interval.high(), 1e-5);
  }

  @Test
  void failuresOfOneCanalAreOneFailure() {
    // Five canals of five trials newly fail: p = 1/32. One canal of five trials: p = 1/2.
    ComparedCondition spread =
        Comparison.of(
                shared(stops(i -> 490, 60), 5),
                shared(stops(i -> i < 25 ? 501 : 490, 60), 5),
                MARGIN)
            .conditions()
            .get(0);
    assertEquals(Verdict.FAIL, spread.verdict());
    ComparedCondition one =
        Comparison.of(
                shared(stops(i -> 490, 60), 5),
                shared(stops(i -> i < 5 ? 501 : 490, 60), 5),
                MARGIN)
            .conditions()
            .get(0);
    assertEquals(5, one.newlyFailed());
    assertEquals(Verdict.UNDECIDED, one.verdict());
  }

  /** At 1,000 comparisons the error of the simulation is 0.007: three of them are allowed. */
  @ParameterizedTest
  @CsvSource({"10, 3, 0", "10, 3, 0.5", "10, 6, 0.3", "20, 6, 0.5"})
  void aShiftAsGreatAsTheMarginSeldomPasses(int canals, int each, double correlation) {
    for (boolean paired : new boolean[] {true, false}) {
      double passed = ComparisonStudy.falsePass(canals, each, correlation, paired, 1_000, 7);
      assertTrue(passed <= 0.05 + 0.021, "paired " + paired + ": " + passed);
      assertTrue(passed > 0.02 || !paired, "the simulation passes some: " + passed);
    }
  }

  @Test
  void otherSeedsAreComparedAsIndependent() {
    List<TrialResult> before = new ArrayList<>();
    List<TrialResult> after = new ArrayList<>();
    Random random = new Random(2);
    for (int i = 0; i < 60; i++) {
      before.add(SampleRun.stop(i, (int) (30 * random.nextGaussian())));
      TrialResult t = SampleRun.stop(i, (int) (30 * random.nextGaussian()));
      after.add(reseeded(t));
    }
    Comparison comparison = Comparison.of(run(before), run(after), MARGIN);
    ComparedCondition c = comparison.conditions().get(0);
    assertFalse(c.paired());
    assertEquals(Verdict.PASS, c.verdict(), c.shiftInterval().toString());
    assertEquals(Verdict.PASS, comparison.verdict());
  }

  @Test
  void trialsSpoiledByTheRigAreNoPairs() {
    List<TrialResult> before = stops(i -> 10 * i, 10);
    List<TrialResult> after = new ArrayList<>(stops(i -> 10 * i, 10));
    after.set(3, SampleRun.rigFault(3, "LATE"));
    ComparedCondition c = Comparison.of(run(before), run(after), MARGIN).conditions().get(0);
    assertEquals(9, c.pairs());
    assertEquals(0, c.newlyFailed());
  }

  @Test
  void aConditionThatIsGoneIsNamedAndLeavesItUndecided() {
    Condition gone = new Condition("brimful", Expectation.STOP, 5, 500, 500);
    Comparison.Run before =
        new Comparison.Run(
            List.of(run(List.of()).conditions().get(0), gone), stops(i -> 10 * i, 10));
    Comparison comparison = Comparison.of(before, run(stops(i -> 10 * i, 10)), MARGIN);
    assertEquals(List.of("brimful"), comparison.onlyBefore());
    assertEquals(Verdict.UNDECIDED, comparison.verdict());
  }

  @Test
  void aRunWithoutTrialsDecidesNothing() {
    Comparison comparison = Comparison.of(run(List.of()), run(List.of()), MARGIN);
    assertEquals(Verdict.UNDECIDED, comparison.verdict());
    assertEquals(OptionalDouble.empty(), comparison.conditions().get(0).shift());
    assertThrows(
        IllegalArgumentException.class, () -> Comparison.of(run(List.of()), run(List.of()), 0));
  }

  @Test
  void whatChangedBetweenTwoRunsIsListed() {
    RunHeader before = SampleRun.header(3, 1);
    RunHeader after =
        new RunHeader(
            before.planName(),
            before.planYaml(),
            "stage: length\nspeed_rpm: 250\n",
            "0.2.0",
            before.bench(),
            before.campaignSeed(),
            before.conditions(),
            before.claims(),
            before.startedAt(),
            before.command());
    assertEquals(
        List.of(
            new HeaderChanges.Change("build", "0.1.0+test", "0.2.0"),
            new HeaderChanges.Change("settings line", "", "speed_rpm: 250")),
        HeaderChanges.between(before, after));
    assertEquals(List.of(), HeaderChanges.between(before, before));
  }

  private static ComparedCondition compare(IntUnaryOperator was, IntUnaryOperator is, int n) {
    return Comparison.of(run(stops(was, n)), run(stops(is, n)), MARGIN).conditions().get(0);
  }

  private static Comparison.Run run(List<TrialResult> trials) {
    return new Comparison.Run(
        List.of(new Condition("half-wet", Expectation.STOP, 30, 500, 500)), trials);
  }

  /** The same where so many trials, one after the other, share a canal. */
  private static Comparison.Run shared(List<TrialResult> trials, int each) {
    Repeats repeats = new Repeats(each, false, StatisticsChoice.DEFAULT, false, Map.of());
    return new Comparison.Run(run(trials).conditions(), trials, repeats.over(trials));
  }

  private static TrialResult refused(TrialResult t) {
    return SampleRun.unstopped(
            t.index(), t.condition(), t.expectation(), Verdict.FAIL, "REFUSED", "It refused.")
        .with(t.condition());
  }

  private static List<TrialResult> stops(IntUnaryOperator error, int n) {
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      trials.add(SampleRun.stop(i, error.applyAsInt(i)));
    }
    return trials;
  }

  private static TrialResult reseeded(TrialResult t) {
    return new TrialResult(
        t.index(),
        t.condition(),
        t.seed() + 1,
        t.expectation(),
        t.verdict(),
        t.code(),
        t.message(),
        t.stopped(),
        t.remainingMicrons(),
        t.stopErrorMicrons(),
        t.deepestMicrons(),
        t.readingMicrons(),
        t.state(),
        t.reason(),
        t.trust(),
        t.cause(),
        t.stopTimeNs(),
        t.durationNs(),
        t.steps(),
        t.worstLatenessNs(),
        t.stateHash(),
        ErrorChain.NONE);
  }
}
