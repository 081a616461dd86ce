package org.stopwell.harness.claim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.record.SampleRun;
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
    for (int i = 0; i < 20; i++) {
      near.add(SampleRun.stop(i, 10 + 10 * (i % 5)));
      far.add(SampleRun.stop(i, 210 + 10 * (i % 5)));
    }
    List<Condition> conditions = SampleRun.header(20, 0).conditions();
    assertEquals(Verdict.PASS, CampaignSummary.of(conditions, List.of(BIAS), near).verdict());
    assertEquals(Verdict.FAIL, CampaignSummary.of(conditions, List.of(BIAS), far).verdict());
    CampaignSummary equal = CampaignSummary.of(conditions, List.of(BIAS), stops(20, 20));
    assertEquals(Verdict.UNDECIDED, equal.verdict());
    assertEquals(Optional.empty(), equal.claims().get(0).interval());
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
