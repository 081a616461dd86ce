package org.stopwell.harness.claim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.DepthReached;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** Claims about trials that must rest at a depth limit of 15 mm, ± 0.3 mm. */
class DepthLimitClaimTest {
  private static final Condition SHAPE =
      new Condition("shape", Expectation.DEPTH_LIMIT, 60, 500, 300);
  private static final Claim WITHIN = new Claim(Claim.Endpoint.WITHIN, 300, 0.9, 0.95, List.of());
  private static final Claim OVERRUN = new Claim(Claim.Endpoint.OVERRUN, 0, 0.05, 0.95, List.of());
  private static final Claim BIAS = new Claim(Claim.Endpoint.BIAS, 100, 0, 0.95, List.of());

  private static TrialResult trial(int index, Verdict verdict, String code, DepthReached depth) {
    return new TrialResult(
            index,
            "shape",
            index,
            Expectation.DEPTH_LIMIT,
            verdict,
            code,
            "Rests.",
            false,
            0,
            depth.depthMicrons() == 0 ? 0 : 15_000 - depth.depthMicrons(),
            900,
            0,
            0,
            State.HOLDING,
            Reason.DEPTH_LIMIT,
            Trust.DOUBTFUL,
            Cause.LEAKING,
            0,
            9,
            9,
            0,
            0,
            ErrorChain.NONE)
        .with(depth);
  }

  private static TrialResult rest(int index, int errorMicrons) {
    return trial(
        index,
        Verdict.PASS,
        "AT_DEPTH_LIMIT",
        new DepthReached(15_000 - errorMicrons, 20, 5_000, 1));
  }

  private static CampaignSummary of(List<TrialResult> trials) {
    return CampaignSummary.of(List.of(SHAPE), List.of(WITHIN, OVERRUN, BIAS), trials);
  }

  @Test
  void restsAtTheLimitCarryEveryClaim() {
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < 60; i++) {
      trials.add(rest(i, 40 + i % 7));
    }
    CampaignSummary summary = of(trials);
    assertEquals(Verdict.PASS, summary.verdict());
    assertEquals(60, summary.claims().get(0).counted().count());
    assertEquals(60, summary.claims().get(1).counted().trials(), "all of them were driven");
    assertEquals(60, summary.conditions().get(0).stopErrors().count());
    assertTrue(summary.claims().get(0).conditions().depthLimit());
  }

  @Test
  void overrunsSpeakAgainstTheClaimAndALimitNeverReachedIsNone() {
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < 50; i++) {
      trials.add(rest(i, 40));
    }
    for (int i = 50; i < 55; i++) {
      trials.add(trial(i, Verdict.FAIL, "PAST_LIMIT", new DepthReached(14_900, 301, 5_000, 0)));
    }
    for (int i = 55; i < 60; i++) {
      trials.add(trial(i, Verdict.FAIL, "NOT_REACHED", new DepthReached(0, -4_000, 5_000, 3)));
    }
    CampaignSummary summary = of(trials);
    assertEquals(5, summary.conditions().get(0).overrun().count());
    assertEquals(60, summary.conditions().get(0).overrun().trials());
    assertEquals(5, summary.claims().get(1).counted().count());
    assertEquals(55, summary.claims().get(0).counted().count(), "rests in the band");
    assertEquals(
        Verdict.FAIL, CampaignSummary.of(List.of(SHAPE), List.of(OVERRUN), trials).verdict());
  }
}
