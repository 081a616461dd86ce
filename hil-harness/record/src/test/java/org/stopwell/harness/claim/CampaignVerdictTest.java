package org.stopwell.harness.claim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

class CampaignVerdictTest {
  private static final Claim WITHIN =
      new Claim(Claim.Endpoint.WITHIN, 500, 0.95, 0.95, List.of("half-wet"));
  private static final Claim REFUSED = new Claim(Claim.Endpoint.REFUSED, 0, 0.9, 0.95, List.of());
  private static final Claim OVER_TRAVEL =
      new Claim(Claim.Endpoint.OVER_TRAVEL, 0, 0.05, 0.95, List.of());
  private static final Claim BIAS = new Claim(Claim.Endpoint.BIAS, 100, 0, 0.95, List.of());

  @Test
  void fiftyNineHitsWithoutAMissProveNinetyFivePercentAndFiftyEightDoNot() {
    assertEquals(Verdict.PASS, half(59, stops(59, 20)).verdict());
    CampaignSummary short1 = half(58, stops(58, 20));
    assertEquals(Verdict.UNDECIDED, short1.verdict(), "not contradicted either");
    // 0.05^(1/58) = 0.94966.
    assertEquals(0.94966, short1.claims().get(0).interval().orElseThrow().low(), 1e-5);
  }

  @Test
  void oneMissNeedsNinetyThree() {
    assertEquals(Verdict.PASS, half(93, plus(stops(92, 20), SampleRun.stop(92, 501))).verdict());
    assertEquals(
        Verdict.UNDECIDED, half(92, plus(stops(91, 20), SampleRun.stop(91, 501))).verdict());
  }

  @Test
  void aClaimThatTheTrialsContradictFails() {
    List<TrialResult> trials = new ArrayList<>(stops(40, 20));
    for (int i = 40; i < 60; i++) {
      trials.add(SampleRun.stop(i, -700));
    }
    CampaignSummary summary = half(60, trials);
    assertEquals(Verdict.FAIL, summary.verdict());
    assertEquals(VerdictReason.of(VerdictReason.Kind.CLAIMS_CONTRADICTED, 1), summary.reason());
  }

  @Test
  void rigFaultsAreNeitherFailuresNorDropped() {
    List<TrialResult> trials =
        plus(stops(59, 20), SampleRun.rigFault(59, "PORT_GONE"), SampleRun.rigFault(60, "LATE"));
    CampaignSummary summary = half(61, trials);
    ConditionSummary condition = summary.conditions().get(0);
    assertEquals(Map.of("PORT_GONE", 1, "LATE", 1), condition.rigFaults());
    assertEquals(61, condition.run());
    assertEquals(59, condition.analysed());
    assertEquals(0, condition.failed());
    assertEquals(
        Verdict.RIG_FAULT,
        summary.verdict(),
        "the claim holds on 59 trials, but not had the two spoiled ones been misses");
  }

  @Test
  void aClaimHoldsThroughRigFaultsWhenEvenTheWorstOfThemCouldNotBreakIt() {
    List<TrialResult> trials =
        plus(stops(122, 20), SampleRun.rigFault(122, "LATE"), SampleRun.rigFault(123, "LATE"));
    CampaignSummary summary = half(124, trials);
    assertEquals(Verdict.PASS, summary.verdict(), "2 misses of 124 would still prove 95 %");
    assertEquals(2, summary.claims().get(0).missing());
  }

  @Test
  void aCampaignThatOnlyTheRigSpoiledSaysNothingAboutTheController() {
    CampaignSummary summary = half(1, List.of(SampleRun.rigFault(0, "PORT_GONE")));
    assertEquals(Verdict.RIG_FAULT, summary.verdict());
    assertEquals(Optional.empty(), summary.conditions().get(0).within().clopperPearson(0.95));
  }

  @Test
  void aSafetyStopOutranksEverything() {
    TrialResult stopped =
        SampleRun.unstopped(
            60, "half-wet", Expectation.STOP, Verdict.SAFETY_STOP, "STOP_LINE", "Stop pressed.");
    assertEquals(Verdict.SAFETY_STOP, half(61, plus(stops(60, 900), stopped)).verdict());
  }

  @Test
  void aFailureThatNoClaimWeighsFailsTheCampaign() {
    List<Condition> conditions = SampleRun.header(59, 1).conditions();
    TrialResult believed =
        SampleRun.unstopped(
            59, "dry", Expectation.REFUSE, Verdict.FAIL, "BELIEVED", "It claimed a length.");
    CampaignSummary summary =
        CampaignSummary.of(conditions, List.of(WITHIN), plus(stops(59, 20), believed));
    assertEquals(Verdict.FAIL, summary.verdict());
    assertEquals(VerdictReason.of(VerdictReason.Kind.TRIALS_FAILED, 1), summary.reason());
  }

  @Test
  void withoutClaimsOneFailureIsEnough() {
    List<Condition> conditions = SampleRun.header(3, 0).conditions();
    assertEquals(Verdict.PASS, CampaignSummary.of(conditions, List.of(), stops(3, 20)).verdict());
    assertEquals(
        Verdict.FAIL,
        CampaignSummary.of(conditions, List.of(), plus(stops(2, 20), SampleRun.stop(2, 501)))
            .verdict());
    assertEquals(
        Verdict.RIG_FAULT,
        CampaignSummary.of(conditions, List.of(), plus(stops(2, 20), SampleRun.rigFault(2, "LATE")))
            .verdict());
  }

  @Test
  void anInterruptedCampaignDoesNotDecide() {
    assertEquals(Verdict.UNDECIDED, half(100, stops(59, 20)).verdict());
    assertEquals(Verdict.UNDECIDED, half(100, List.of()).verdict());
  }

  @Test
  void refusalsAndOverTravelHaveClaimsOfTheirOwn() {
    List<Condition> conditions = SampleRun.header(59, 40).conditions();
    List<TrialResult> trials = new ArrayList<>(stops(59, 20));
    for (int i = 59; i < 99; i++) {
      trials.add(SampleRun.refusal(i));
    }
    CampaignSummary summary =
        CampaignSummary.of(conditions, List.of(WITHIN, OVER_TRAVEL, REFUSED), trials);
    assertEquals(Verdict.PASS, summary.verdict());
    assertEquals(VerdictReason.of(VerdictReason.Kind.CLAIMS_HOLD, 3), summary.reason());
    assertEquals(
        new Proportion(0, 59),
        summary.claims().get(1).counted(),
        "canals to be refused do not fill up the denominator of over-travel");
    assertEquals(new Proportion(40, 40), summary.claims().get(2).counted());
  }

  @Test
  void theMeanIsHeldAgainstBothSidesOfItsMargin() {
    // 10, 20, 30 … repeated: mean 30 µm, s 14.5 µm; well within ±100 µm.
    List<TrialResult> near = new ArrayList<>();
    List<TrialResult> far = new ArrayList<>();
    for (int i = 0; i < 60; i++) {
      near.add(SampleRun.stop(i, 10 + 10 * (i % 5)));
      far.add(SampleRun.stop(i, 210 + 10 * (i % 5)));
    }
    List<Condition> conditions = SampleRun.header(60, 0).conditions();
    assertEquals(Verdict.PASS, CampaignSummary.of(conditions, List.of(BIAS), near).verdict());
    assertEquals(Verdict.FAIL, CampaignSummary.of(conditions, List.of(BIAS), far).verdict());
    CampaignSummary equal = CampaignSummary.of(conditions, List.of(BIAS), stops(60, 20));
    assertEquals(Verdict.UNDECIDED, equal.verdict());
    assertEquals(Optional.empty(), equal.claims().get(0).interval());
  }

  @Test
  void overTravelIsOfTheTrialsThatWereDriven() {
    // 40 refused, and 1 of 60 driven past: 95 % bound of 1 of 60 is 7.66 %, of 1 of 100 4.66 %.
    List<TrialResult> trials = new ArrayList<>(stops(59, 20));
    trials.add(SampleRun.stop(59, -700));
    trials.addAll(refusals(60, 40));
    ClaimOutcome outcome = outcome(OVER_TRAVEL, trials);
    assertEquals(new Proportion(1, 60), outcome.counted());
    assertEquals(0.0766, outcome.interval().orElseThrow().high(), 5e-5);
    assertEquals(0, outcome.missing(), "a refused trial is not missing");
    assertEquals(
        new Proportion(1, 60), summary(OVER_TRAVEL, trials).conditions().get(0).overTravel());
  }

  @Test
  void aTrialThatWasNotDrivenAndWentPastAllTheSameIsAnOverTravel() {
    // A hand that pushes the file: refused, and 0.2 mm past the foramen.
    TrialResult pushed = SampleRun.refusedAt(59, "half-wet", -200);
    List<TrialResult> trials = plus(stops(59, 20), pushed);
    assertEquals(new Proportion(1, 60), outcome(OVER_TRAVEL, trials).counted());
    assertFalse(pushed.driven());
    assertTrue(SampleRun.stop(0, 20).driven());
    assertFalse(
        SampleRun.refusal(0).with(Verdict.FAIL, TrialResult.NEVER_STARTED, "Parked.").driven());
  }

  @Test
  void aMeanOverFewStopsIsWorthNothingWhereManyAreRefused() {
    List<TrialResult> stops = new ArrayList<>();
    for (int i = 0; i < 60; i++) {
      stops.add(SampleRun.stop(i, 10 + 10 * (i % 5)));
    }
    ClaimOutcome good = outcome(BIAS, stops);
    assertEquals(Verdict.PASS, good.verdict());
    // 0.05^(1/60) = 0.9513: at most 4.87 % refused.
    Basis.Unstopped none = ((Basis.Mean) good.basis()).unstopped();
    assertEquals(1 - Math.pow(0.05, 1.0 / 60), none.atMost(), 1e-12);
    assertEquals(
        Verdict.UNDECIDED, outcome(BIAS, stops.subList(0, 58)).verdict(), "at most 5.03 %");
    List<TrialResult> few = new ArrayList<>(stops);
    few.addAll(refusals(60, 2));
    assertEquals(Verdict.UNDECIDED, outcome(BIAS, few).verdict(), "2 of 62 may be 10 %");
    List<TrialResult> many = new ArrayList<>(stops);
    many.addAll(refusals(60, 40));
    ClaimOutcome refusing = outcome(BIAS, many);
    assertEquals(Verdict.FAIL, refusing.verdict(), "40 of 100 refused");
    Basis.Mean mean = (Basis.Mean) refusing.basis();
    assertEquals(new Proportion(40, 100), mean.unstopped().counted());
    // The mean of 60 stops at 30 µm, and of 40 at the worst stop, 50 µm, to either side.
    Interval worst = mean.unstopped().worst().orElseThrow();
    assertTrue(worst.low() < (60 * 30 - 40 * 50) / 100.0 && worst.high() > 38, worst.toString());
    Claim lenient = new Claim(Claim.Endpoint.BIAS, 100, 0, 0.95, List.of(), false, 0.5);
    assertEquals(Verdict.PASS, outcome(lenient, many).verdict(), "the plan tolerates one half");
    assertEquals(
        Verdict.PASS, summary(lenient, many).verdict(), "so its refusals fail no campaign");
  }

  @Test
  void aPooledMeanNamesTheConditionThatStandsOutsideOfItsMargin() {
    CampaignSummary summary = pooled(BIAS);
    assertEquals(Verdict.PASS, summary.verdict());
    ClaimOutcome outcome = summary.claims().get(0);
    assertEquals(List.of("c0"), outcome.conditions().hidden(outcome));
    assertEquals(9, outcome.conditions().names().size());
  }

  @Test
  void aClaimOnEachConditionIsDecidedByHolm() {
    Claim each = new Claim(Claim.Endpoint.BIAS, 100, 0, 0.95, List.of(), true, 0.05);
    ClaimOutcome outcome = pooled(each).claims().get(0);
    assertEquals(Verdict.UNDECIDED, outcome.verdict(), "c0 stands at −0.117 mm");
    // 102 hits of 102 show 95 % at 0.05/9: 0.95^102 = 0.0053; 101 do not: 0.0056 > 0.05/9.
    Claim within = new Claim(Claim.Endpoint.WITHIN, 500, 0.95, 0.95, List.of(), true, 0);
    assertEquals(Verdict.PASS, many(within, 102, 0).verdict());
    assertEquals(Verdict.UNDECIDED, many(within, 101, 0).verdict());
    // One condition of 59 hits needs 0.05 alone, when the eight others are shown.
    assertEquals(Verdict.PASS, many(within, 102, 43).verdict());
    assertEquals(Verdict.UNDECIDED, many(within, 102, 44).verdict());
    assertEquals(
        List.of("c1", "c2", "c3", "c4", "c5", "c6", "c7", "c8"),
        many(within, 102, 44).conditions().holding());
  }

  @Test
  void holmNamesAConditionWronglyInAtMostFivePercent() {
    // Four conditions at the limit of 90 %, five above it. 300 campaigns of 9 × 60 trials.
    Claim each = new Claim(Claim.Endpoint.WITHIN, 500, 0.9, 0.95, List.of(), true, 0);
    Random random = new Random(11);
    int wrong = 0;
    int named = 0;
    for (int run = 0; run < 300; run++) {
      List<TrialResult> trials = new ArrayList<>();
      for (int i = 0; i < 540; i++) {
        double share = i % 9 < 4 ? 0.9 : 0.995;
        trials.add(SampleRun.stop(i, random.nextDouble() < share ? 20 : 900).with("c" + i % 9));
      }
      List<String> holding =
          CampaignSummary.of(nine(60), List.of(each), trials)
              .claims()
              .get(0)
              .conditions()
              .holding();
      named += holding.size();
      wrong += holding.stream().anyMatch(n -> n.charAt(1) < '4') ? 1 : 0;
    }
    assertTrue(named > 300, "it names true ones: " + named);
    // Three standard errors of 300 campaigns are 3.8 %.
    assertTrue(wrong <= 300 * (0.05 + 0.038), "named wrongly in " + wrong + " of 300");
  }

  /** Nine conditions of 60 stops; the mean of the first is −117 µm, of the others near 0. */
  private static CampaignSummary pooled(Claim claim) {
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < 540; i++) {
      int off = (i / 9 % 2 == 0 ? 150 : -150) + (i % 9 == 0 ? -117 : 5);
      trials.add(SampleRun.stop(i, off).with("c" + i % 9));
    }
    return CampaignSummary.of(nine(60), List.of(claim), trials);
  }

  /** Nine conditions in which every trial hits; the first has some trials less. */
  private static ClaimOutcome many(Claim claim, int each, int less) {
    List<TrialResult> trials = new ArrayList<>();
    List<Condition> conditions = new ArrayList<>();
    for (int c = 0; c < 9; c++) {
      int n = c == 0 ? each - less : each;
      conditions.add(new Condition("c" + c, Expectation.STOP, n, 500, 500));
      for (int i = 0; i < n; i++) {
        trials.add(SampleRun.stop(trials.size(), 20).with("c" + c));
      }
    }
    return CampaignSummary.of(conditions, List.of(claim), trials).claims().get(0);
  }

  private static List<Condition> nine(int trials) {
    List<Condition> conditions = new ArrayList<>();
    for (int c = 0; c < 9; c++) {
      conditions.add(new Condition("c" + c, Expectation.STOP, trials, 500, 500));
    }
    return conditions;
  }

  private static List<TrialResult> refusals(int from, int count) {
    List<TrialResult> refusals = new ArrayList<>();
    for (int i = from; i < from + count; i++) {
      refusals.add(SampleRun.refusedAt(i, "half-wet", 9000));
    }
    return refusals;
  }

  private static ClaimOutcome outcome(Claim claim, List<TrialResult> trials) {
    return summary(claim, trials).claims().get(0);
  }

  private static CampaignSummary summary(Claim claim, List<TrialResult> trials) {
    return CampaignSummary.of(
        List.of(new Condition("half-wet", Expectation.STOP, trials.size(), 500, 500)),
        List.of(claim),
        trials);
  }

  @Test
  void whereARefusalIsPermittedItIsNoMissAndAStopIsCounted() {
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < 59; i++) {
      trials.add(expecting(Expectation.STOP_OR_REFUSE, i, 20));
    }
    trials.add(
        SampleRun.unstopped(
            59, "half-wet", Expectation.STOP_OR_REFUSE, Verdict.PASS, "LEAKING", "It leaks."));
    Condition either = new Condition("half-wet", Expectation.STOP_OR_REFUSE, 60, 500, 500);
    Claim claim = new Claim(Claim.Endpoint.WITHIN, 500, 0.95, 0.95, List.of());
    CampaignSummary summary = CampaignSummary.of(List.of(either), List.of(claim), trials);
    assertEquals(Verdict.PASS, summary.verdict());
    assertEquals(new Proportion(59, 59), summary.claims().get(0).counted());
    assertEquals(new Proportion(59, 59), summary.conditions().get(0).within());
  }

  @Test
  void whatIsShownForComparisonDecidesNothing() {
    List<TrialResult> trials = new ArrayList<>(stops(59, 20));
    for (int i = 59; i < 118; i++) {
      trials.add(expecting(Expectation.COMPARE, i, -900));
    }
    List<Condition> conditions =
        List.of(
            new Condition("half-wet", Expectation.STOP, 59, 500, 500),
            new Condition("other", Expectation.COMPARE, 59, 500, 500));
    Claim within = new Claim(Claim.Endpoint.WITHIN, 500, 0.95, 0.95, List.of());
    assertEquals(
        Verdict.PASS,
        CampaignSummary.of(conditions, List.of(within, OVER_TRAVEL), trials).verdict());
    assertEquals(Verdict.PASS, CampaignSummary.of(conditions, List.of(), trials).verdict());
    List<Condition> both =
        List.of(
            conditions.get(0), new Condition("other", Expectation.STOP_OR_REFUSE, 59, 500, 500));
    List<TrialResult> counted = new ArrayList<>(stops(59, 20));
    for (int i = 59; i < 118; i++) {
      counted.add(expecting(Expectation.STOP_OR_REFUSE, i, -900));
    }
    assertEquals(Verdict.FAIL, CampaignSummary.of(both, List.of(within), counted).verdict());
  }

  private static TrialResult expecting(Expectation expectation, int index, int errorMicrons) {
    TrialResult s = SampleRun.stop(index, errorMicrons);
    return new TrialResult(
        index,
        expectation == Expectation.COMPARE || index >= 59 ? "other" : "half-wet",
        s.seed(),
        expectation,
        s.verdict(),
        s.code(),
        s.message(),
        true,
        s.remainingMicrons(),
        s.stopErrorMicrons(),
        s.deepestMicrons(),
        s.readingMicrons(),
        s.state(),
        s.reason(),
        s.trust(),
        s.cause(),
        s.stopTimeNs(),
        s.durationNs(),
        s.steps(),
        s.worstLatenessNs(),
        s.stateHash(),
        s.chain());
  }

  @Test
  void theOrderOfTrialsChangesNothing() {
    List<TrialResult> trials = new ArrayList<>(plus(stops(80, 33), SampleRun.rigFault(80, "LATE")));
    CampaignSummary inOrder = half(81, trials);
    Collections.shuffle(trials, new Random(7));
    assertEquals(inOrder, half(81, trials));
  }

  @Test
  void aTrialOfNoConditionIsAMistake() {
    assertThrows(
        IllegalArgumentException.class,
        () -> CampaignSummary.of(List.of(), List.of(), stops(1, 0)));
  }

  @Test
  void aClaimOutsideOfItsLimitsIsRefused() {
    assertThrows(
        IllegalArgumentException.class,
        () -> new Claim(Claim.Endpoint.WITHIN, 0, 0.95, 0.95, List.of()));
    assertThrows(
        IllegalArgumentException.class,
        () -> new Claim(Claim.Endpoint.OVER_TRAVEL, 0, Double.NaN, 0.95, List.of()));
    assertThrows(
        IllegalArgumentException.class,
        () -> new Claim(Claim.Endpoint.OVER_TRAVEL, 0, 0.05, 1, List.of()));
  }

  private static CampaignSummary half(int planned, List<TrialResult> trials) {
    return CampaignSummary.of(
        List.of(new Condition("half-wet", Expectation.STOP, planned, 500, 500)),
        List.of(WITHIN),
        trials);
  }

  private static List<TrialResult> stops(int count, int errorMicrons) {
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      trials.add(SampleRun.stop(i, errorMicrons));
    }
    return trials;
  }

  private static List<TrialResult> plus(List<TrialResult> trials, TrialResult... more) {
    List<TrialResult> all = new ArrayList<>(trials);
    Collections.addAll(all, more);
    return all;
  }
}
