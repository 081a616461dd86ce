package org.stopwell.harness.evidence;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.harness.claim.Basis;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ClaimOutcome;
import org.stopwell.harness.protocol.Blinding;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Exclusion;
import org.stopwell.harness.protocol.Order;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.stats.Sprt;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;

/** Which trials count, which do not, and when enough is known. */
class EvidenceTest {
  private static final Claim WITHIN = new Claim(Claim.Endpoint.WITHIN, 500, 0.95, 0.95, List.of());

  @Test
  void aBadSentinelExcludesEveryTrialBackToTheLastGoodOne() {
    List<TrialResult> results = new ArrayList<>();
    for (int i = 0; i < 12; i++) {
      results.add(SampleRun.stop(i, 10));
    }
    results.set(3, sentinel(3, 505));
    results.set(7, sentinel(7, 900));
    results.set(11, sentinel(11, 495));
    Evidence evidence = Evidence.of(header(protocol(0, 0, StoppingRule.FIXED), 9), results);
    assertEquals(9, evidence.trials().size(), "sentinels stand apart, nothing else is gone");
    assertEquals(
        List.of(4, 5, 6),
        evidence.trials().stream()
            .filter(t -> t.code().equals("BAD_SENTINEL"))
            .map(TrialResult::index)
            .toList());
    assertEquals(Map.of(Exclusion.BAD_SENTINEL, 3), evidence.excluded());
    List<TrialResult> rows = evidence.rows(results);
    assertEquals(12, rows.size(), "an export has every row");
    assertEquals("BAD_SENTINEL", rows.get(5).code());
    assertEquals(results.get(7), rows.get(7));
    CampaignSummary summary = evidence.summary();
    assertEquals(9, summary.run());
    assertEquals(6, summary.analysed());
    assertEquals(Map.of("BAD_SENTINEL", 3), summary.rigFaults());
  }

  @Test
  void aSentinelThatDoesNotStopIsBad() {
    List<TrialResult> results = new ArrayList<>(List.of(SampleRun.stop(0, 10)));
    TrialResult stuck =
        SampleRun.unstopped(
            1, SentinelRule.CONDITION, Expectation.STOP, Verdict.UNDECIDED, "TIME_LIMIT", "late");
    results.add(stuck);
    assertEquals(
        Map.of(Exclusion.BAD_SENTINEL, 1),
        Evidence.of(header(protocol(0, 0, StoppingRule.FIXED), 1), results).excluded());
  }

  @Test
  void noRuleLooksAtWhatATrialCameTo() {
    List<TrialResult> good = new ArrayList<>();
    List<TrialResult> bad = new ArrayList<>();
    for (int i = 0; i < 8; i++) {
      boolean fault = i == 2 || i == 5;
      good.add(fault ? SampleRun.rigFault(i, "LINK") : SampleRun.stop(i, 10));
      bad.add(fault ? SampleRun.rigFault(i, "LINK") : SampleRun.stop(i, 900));
    }
    RunHeader header = header(protocol(2, 0, StoppingRule.FIXED), 8);
    Map<Exclusion, Integer> expected =
        Map.of(Exclusion.BENCH_FAULT, 2, Exclusion.AFTER_RIG_FAULT, 4);
    assertEquals(expected, Evidence.of(header, good).excluded());
    assertEquals(expected, Evidence.of(header, bad).excluded());
  }

  @Test
  void withoutAProtocolNothingChanges() {
    RunHeader header = SampleRun.header(3, 1);
    List<TrialResult> results =
        List.of(SampleRun.stop(0, 12), SampleRun.rigFault(1, "LINK"), SampleRun.stop(2, 900));
    Evidence evidence = Evidence.of(header, results);
    assertEquals(header, evidence.header());
    assertEquals(results, evidence.trials());
    assertEquals(Optional.empty(), evidence.decision());
  }

  @Test
  void levelsGoByCodesUntilUnblinded() {
    Protocol blinded =
        protocol(0, 0, StoppingRule.FIXED).with(new Blinding("hand", 0, Map.of("half-wet", "K")));
    RunHeader header = header(blinded, 2);
    List<TrialResult> results = List.of(SampleRun.stop(0, 1), SampleRun.stop(1, 2));
    Evidence coded = Evidence.of(header, results);
    assertEquals("K", coded.header().conditions().get(0).name());
    assertEquals("K", coded.trials().get(1).condition());
    assertEquals(1, coded.summary().conditions().size());
    assertTrue(coded.header().isCoded());
  }

  @Test
  void waldsTestEndsACampaignAtTheFirstTrialThatDecides() {
    StoppingRule rule =
        new StoppingRule(StoppingRule.Kind.SPRT, Claim.Endpoint.WITHIN, 0.99, 0.95, 2, 0);
    Sprt test = new Sprt(0.01, 0.05, 0.05, 0.05, 400);
    int first = 1;
    while (test.decide(first, 0) == Sprt.Decision.GO_ON) {
      first++;
    }
    // Accepted at β, Wald 1947: ln(1/0.05) / ln(0.99/0.95) = 72.6 trials without a miss.
    assertEquals(73, first);
    Evidence evidence = Evidence.of(header(plain(rule), 400), stops(first, 10));
    assertEquals(72, evidence.decision().orElseThrow().index());
    CampaignSummary summary = evidence.summary();
    assertEquals(Verdict.PASS, summary.verdict());
    assertEquals(73, summary.planned(), "what the rule saved was not due");
    assertEquals(
        Verdict.UNDECIDED,
        Evidence.of(header(plain(rule), 400), stops(first - 1, 10)).summary().verdict());
  }

  @Test
  void aStoppingRuleCountsAndWithholdsAsEveryOtherClaimDoes() {
    for (StoppingRule.Kind kind : List.of(StoppingRule.Kind.SPRT, StoppingRule.Kind.ANYTIME)) {
      StoppingRule rule = new StoppingRule(kind, Claim.Endpoint.WITHIN, 0.99, 0.95, 2, 0);
      RunHeader header = header(plain(rule), 400);
      assertEquals(
          Verdict.PASS, Evidence.of(header, stops(400, 10)).summary().claims().get(0).verdict());
      List<TrialResult> guarded =
          stops(400, 490).stream()
              .map(t -> t.with(Verdict.UNDECIDED, Withheld.GUARD_BAND.name(), "near the limit"))
              .toList();
      assertEquals(
          Verdict.FAIL,
          Evidence.of(header, guarded).summary().claims().get(0).verdict(),
          "an error in the guard band is no hit");
      List<TrialResult> unproven =
          stops(400, 10).stream()
              .map(t -> t.with(Verdict.UNDECIDED, Withheld.NOT_PROVEN.name(), "not proven"))
              .toList();
      Evidence evidence = Evidence.of(header, unproven);
      assertEquals(Optional.empty(), evidence.decision(), "a bench that may not decide");
      assertEquals(Verdict.UNDECIDED, evidence.summary().claims().get(0).verdict());
      assertEquals(Optional.of(Withheld.NOT_PROVEN), evidence.summary().claims().get(0).withheld());
    }
  }

  @Test
  void aClaimThatOnlyTheRigKeepsOpenSaysSo() {
    for (StoppingRule.Kind kind : List.of(StoppingRule.Kind.SPRT, StoppingRule.Kind.ANYTIME)) {
      StoppingRule rule = new StoppingRule(kind, Claim.Endpoint.WITHIN, 0.99, 0.95, 2, 0);
      int enough = 1;
      while (Evidence.of(header(plain(rule), 400), stops(enough, 10)).decision().isEmpty()) {
        enough++;
      }
      RunHeader header = header(plain(rule), enough);
      assertEquals(2, spoiled(header, spoiled(stops(enough, 10), 0, 1)), kind.name());
      List<TrialResult> unfinished = spoiled(stops(enough, 10), 0, 1).subList(0, enough - 1);
      assertEquals(0, spoiled(header, unfinished), "the rest is still to come");
      List<TrialResult> missed = spoiled(stops(enough, 10), 0, 1);
      missed.set(enough - 1, SampleRun.stop(enough - 1, 900));
      assertEquals(0, spoiled(header, missed), "the miss keeps it open as well");
    }
  }

  private static List<TrialResult> spoiled(List<TrialResult> results, int... which) {
    List<TrialResult> all = new ArrayList<>(results);
    for (int index : which) {
      all.set(index, SampleRun.rigFault(index, "LINK"));
    }
    return all;
  }

  /** Trials that the rig spoiled, where these alone keep the claim open. */
  private static int spoiled(RunHeader header, List<TrialResult> results) {
    ClaimOutcome outcome = Evidence.of(header, results).summary().claims().get(0);
    int spoiled = ((Basis.EveryTrial) outcome.basis()).spoiled();
    assertEquals(spoiled > 0 ? Verdict.RIG_FAULT : Verdict.UNDECIDED, outcome.verdict());
    return spoiled;
  }

  @Test
  void missesAreContradictedEarly() {
    StoppingRule rule =
        new StoppingRule(StoppingRule.Kind.SPRT, Claim.Endpoint.WITHIN, 0.99, 0.95, 2, 0);
    Evidence evidence = Evidence.of(header(plain(rule), 400), stops(3, 900));
    assertEquals(1, evidence.decision().orElseThrow().index());
    assertEquals(Verdict.FAIL, evidence.summary().verdict());
  }

  @Test
  void groupSequentialLooksClaimWronglyNoMoreOftenThanTheClaimAllows() {
    for (double shape : new double[] {0, 0.5}) {
      StoppingRule rule =
          new StoppingRule(
              StoppingRule.Kind.GROUP_SEQUENTIAL, Claim.Endpoint.WITHIN, 0.99, 0.9, 4, shape);
      double wrong = chanceOfClaiming(rule, 240, 0.95);
      assertTrue(wrong > 0.005 && wrong <= 0.05, "shape " + shape + ": " + wrong);
    }
  }

  @Test
  void atTheLastLookTheTrialsThatTheRigSpoiledStandAgainstTheClaim() {
    StoppingRule rule =
        new StoppingRule(
            StoppingRule.Kind.GROUP_SEQUENTIAL, Claim.Endpoint.WITHIN, 0.99, 0.9, 2, 0);
    RunHeader header = header(plain(rule), 80);
    List<TrialResult> results = stops(80, 10);
    assertEquals(Verdict.PASS, Evidence.of(header, results).summary().verdict());
    for (int i = 70; i < 72; i++) {
      results.set(i, results.get(i).with(Verdict.RIG_FAULT, "LINK_LOST", "gone"));
    }
    // 78 of 78 would do, 78 of 80 would not.
    assertEquals(
        Verdict.RIG_FAULT, Evidence.of(header, results).summary().claims().get(0).verdict());
    assertEquals(
        Verdict.UNDECIDED,
        Evidence.of(header, stops(78, 10)).summary().claims().get(0).verdict(),
        "two are still to be run");
  }

  @ParameterizedTest
  @EnumSource(
      value = StoppingRule.Kind.class,
      names = {"SPRT", "ANYTIME", "GROUP_SEQUENTIAL"})
  void trialsThatTheRigSpoiledStandAgainstAnEarlyAcceptance(StoppingRule.Kind kind) {
    // Without a loss all three rules accept before the end.
    StoppingRule rule = new StoppingRule(kind, Claim.Endpoint.WITHIN, 0.99, 0.9, 2, 0);
    RunHeader header = header(plain(rule), 240);
    List<TrialResult> results = stops(240, 10);
    int sound = Evidence.of(header, results).decision().orElseThrow().index();
    assertTrue(sound < 239, kind + " ends at " + sound);
    for (int i = 5; i < 9; i++) {
      results.set(i, results.get(i).with(Verdict.RIG_FAULT, "LINK_LOST", "gone"));
    }
    // Four losses cost more than four trials: each could have been a miss.
    int later =
        Evidence.of(header, results).decision().map(Decision::index).orElse(Integer.MAX_VALUE);
    assertTrue(later > sound + 4, kind + " ends at " + later + ", without a loss at " + sound);
  }

  @Test
  void aTrialCountsForTheStoppingRuleOnceAGoodSentinelFollows() {
    StoppingRule rule =
        new StoppingRule(StoppingRule.Kind.SPRT, Claim.Endpoint.WITHIN, 0.99, 0.95, 2, 0);
    List<TrialResult> results = stops(80, 10);
    RunHeader header = header(protocol(0, 0, rule), 400);
    assertEquals(Optional.empty(), Evidence.of(header, results).decision());
    List<TrialResult> proven = new ArrayList<>(results);
    proven.add(sentinel(80, 500));
    assertEquals(80, Evidence.of(header, proven).decision().orElseThrow().index());
    List<TrialResult> spoiled = new ArrayList<>(results);
    spoiled.add(sentinel(80, 900));
    assertEquals(Optional.empty(), Evidence.of(header, spoiled).decision());
  }

  @Test
  void aTrialCountsOnceHoweverManySentinelsFollow() {
    StoppingRule rule =
        new StoppingRule(StoppingRule.Kind.SPRT, Claim.Endpoint.WITHIN, 0.99, 0.95, 2, 0);
    List<TrialResult> results = stops(30, 10);
    results.add(sentinel(30, 500));
    results.add(SampleRun.stop(31, 10));
    results.add(sentinel(32, 500));
    results.add(sentinel(33, 500));
    StoppingPath path =
        Evidence.of(header(protocol(0, 0, rule), 400), results).path().orElseThrow();
    assertEquals(31, path.trials());
  }

  /** Exact: every number of hits after every look is gone through. */
  private static double chanceOfClaiming(StoppingRule rule, int planned, double truth) {
    List<Double> confidences = rule.confidences(0.95);
    double[] live = {1};
    double claimed = 0;
    int n = 0;
    for (int look = 1; look <= rule.looks(); look++) {
      int until = planned * look / rule.looks();
      for (; n < until; n++) {
        double[] next = new double[live.length + 1];
        for (int k = 0; k < live.length; k++) {
          next[k] += live[k] * (1 - truth);
          next[k + 1] += live[k] * truth;
        }
        live = next;
      }
      for (int k = 0; k < live.length; k++) {
        double bound =
            new org.stopwell.harness.stats.Proportion(k, n)
                .lowerBound(confidences.get(look - 1))
                .orElse(0);
        if (bound >= 0.95) {
          claimed += live[k];
          live[k] = 0;
        }
      }
    }
    return claimed;
  }

  private static List<TrialResult> stops(int count, int errorMicrons) {
    List<TrialResult> stops = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      stops.add(SampleRun.stop(i, errorMicrons));
    }
    return stops;
  }

  private static TrialResult sentinel(int index, int remainingMicrons) {
    return SampleRun.stop(index, remainingMicrons - 500).with(SentinelRule.CONDITION);
  }

  private static Protocol plain(StoppingRule rule) {
    return new Protocol(
        Order.BLOCKS,
        1,
        false,
        Optional.empty(),
        List.of(),
        Optional.empty(),
        Optional.empty(),
        0,
        0,
        rule,
        Map.of(),
        Map.of());
  }

  private static Protocol protocol(int afterRigFault, long lateNs, StoppingRule rule) {
    return new Protocol(
        Order.BLOCKS,
        1,
        false,
        Optional.empty(),
        List.of(),
        Optional.empty(),
        Optional.of(new SentinelRule(3, 500, 20)),
        afterRigFault,
        lateNs,
        rule,
        Map.of(),
        Map.of());
  }

  private static RunHeader header(Protocol protocol, int planned) {
    return SampleRun.under(
        protocol,
        SampleRun.header(planned, 1),
        List.of(new Condition("half-wet", Expectation.STOP, planned, 500, 500)),
        List.of(WITHIN));
  }
}
