package org.stopwell.harness.evidence;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.claim.Basis;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** When a stopping rule looks, how strict each look is, and where it ends a campaign. */
class StoppingLooksTest {
  private static final int PLANNED = 90;

  /** Three looks: 30, 60 and 90 trials, at the limits 1.710 √(3/k) (Jennison and Turnbull 2000). */
  @Test
  void looksComeAtEqualStepsAndEachIsStricterThanTheNext() {
    Evidence evidence = Evidence.of(header(looks()), stops(PLANNED, 8));
    StoppingPath path = evidence.path().orElseThrow();
    assertEquals(PLANNED, path.cap());
    assertEquals(PLANNED, path.trials());
    assertEquals(List.of(30, 60, 90), path.looks().stream().map(l -> l.trials()).toList());
    double[] confidences = {0.99847, 0.98188, 0.95637};
    for (int k = 0; k < 3; k++) {
      StoppingPath.Look look = path.looks().get(k);
      assertEquals(confidences[k], look.confidence(), 2e-4, "look " + (k + 1));
      Basis.Look basis = assertInstanceOf(Basis.Look.class, look.outcome().basis());
      assertEquals(k + 1, basis.number());
      assertEquals(3, basis.looks());
      assertEquals(look.trials(), look.outcome().counted().trials());
    }
    // Every eighth stop misses: 3 of 30, 7 of 60, 11 of 90.
    assertEquals(
        List.of(27L, 53L, 79L),
        path.looks().stream().map(l -> l.outcome().counted().count()).toList());
    assertEquals(11, path.against().get(PLANNED - 1));
    assertEquals(Optional.empty(), evidence.decision(), "neither shown nor contradicted before");
  }

  /** Without a miss the first look shows 80 %: 0.8^30 is 0.12 %, less than its 0.15 %. */
  @Test
  void aLookThatShowsTheClaimEndsTheCampaign() {
    Decision decision =
        Evidence.of(header(looks()), stops(PLANNED, 1_000)).decision().orElseThrow();
    assertEquals(29, decision.index());
    assertEquals(Verdict.PASS, decision.outcome().verdict());
    assertTrue(Math.pow(0.8, 30) < 1 - 0.99847);
  }

  /** One trial less is no look. */
  @Test
  void betweenTwoLooksNothingIsDecided() {
    Evidence evidence = Evidence.of(header(looks()), stops(29, 1_000));
    assertEquals(Optional.empty(), evidence.decision());
    assertEquals(29, evidence.path().orElseThrow().trials());
  }

  /** The evidence of n hits in a row: (1 − 0.8^(n+1)) / (0.2 (n + 1) 0.8^n), 20 is enough. */
  @Test
  void theBoundForEveryLookEndsTheCampaignAtTheFirstTrialThatShowsTheClaim() {
    int first = 1;
    while ((1 - Math.pow(0.8, first + 1)) / (0.2 * (first + 1) * Math.pow(0.8, first)) < 20) {
      first++;
    }
    StoppingRule anytime =
        new StoppingRule(StoppingRule.Kind.ANYTIME, Claim.Endpoint.WITHIN, 0.99, 0.9, 1, 0);
    Evidence evidence = Evidence.of(header(anytime), stops(PLANNED, 1_000));
    assertEquals(first - 1, evidence.decision().orElseThrow().index());
    assertEquals(
        Optional.empty(), Evidence.of(header(anytime), stops(first - 1, 1_000)).decision());
  }

  /** No number of trials shows that none of all trials ever misses. */
  @Test
  void aClaimOfAllTrialsIsNeverShownEarly() {
    StoppingRule anytime =
        new StoppingRule(StoppingRule.Kind.ANYTIME, Claim.Endpoint.WITHIN, 0.99, 0.9, 1, 0);
    Evidence evidence = Evidence.of(header(anytime, 1), stops(PLANNED, 1_000));
    assertEquals(Optional.empty(), evidence.decision());
  }

  private static StoppingRule looks() {
    return new StoppingRule(
        StoppingRule.Kind.GROUP_SEQUENTIAL, Claim.Endpoint.WITHIN, 0.99, 0.9, 3, 0);
  }

  private static List<TrialResult> stops(int count, int missEvery) {
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      trials.add(SampleRun.stop(i, i % missEvery == missEvery - 1 ? 600 : 20));
    }
    return trials;
  }

  private static RunHeader header(StoppingRule rule) {
    return header(rule, 0.8);
  }

  private static RunHeader header(StoppingRule rule, double share) {
    RunHeader h = SampleRun.header(PLANNED, 0);
    Protocol none = Protocol.NONE;
    Protocol protocol =
        new Protocol(
            none.order(),
            none.canalTrials(),
            none.commonCanals(),
            none.primary(),
            none.secondary(),
            none.blinding(),
            none.sentinels(),
            none.afterRigFault(),
            none.lateStepNs(),
            rule,
            none.sizes(),
            none.whys());
    Claim claim = new Claim(Claim.Endpoint.WITHIN, 500, share, 0.95, List.of());
    return SampleRun.under(protocol, h, h.conditions(), List.of(claim));
  }
}
