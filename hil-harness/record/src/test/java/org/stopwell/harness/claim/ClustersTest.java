package org.stopwell.harness.claim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.stats.Clusters;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** Repeats in one canal are worth fewer trials than so many canals. */
class ClustersTest {
  private static final Claim WITHIN = new Claim(Claim.Endpoint.WITHIN, 500, 0.95, 0.95, List.of());
  private static final Claim BIAS = new Claim(Claim.Endpoint.BIAS, 100, 0, 0.95, List.of());

  /**
   * Litters of rats, survivors/pups: Weil, Food and Cosmetics Toxicology 8, 1970, 177, as in table
   * 1 of Rao and Scott, Biometrics 48, 1992, 577; their design effects to 7 digits as published
   * with the R package PF (rsb).
   */
  @ParameterizedTest
  @CsvSource({
    "13/13 12/12 9/9 9/9 8/8 8/8 12/13 11/12 9/10 9/10 8/9 11/13 4/5 5/7 7/10 7/10, 1.232495",
    "12/12 11/11 10/10 9/9 10/11 9/10 9/10 8/9 8/9 4/5 7/9 4/7 5/10 3/6 3/10 0/7, 3.952861",
  })
  void theDesignEffectIsThatOfRaoAndScottsLitters(String litters, double effect) {
    List<Proportion> counts = new ArrayList<>();
    for (String litter : litters.split(" ", -1)) {
      int slash = litter.indexOf('/');
      counts.add(
          new Proportion(
              Long.parseLong(litter.substring(0, slash)),
              Long.parseLong(litter.substring(slash + 1))));
    }
    Clusters clusters = Clusters.of(counts, 0);
    assertEquals(effect, clusters.total().trials() / clusters.effectiveTrials(), 5.1e-7);
    assertEquals(
        clusters.effectiveTrials(),
        Clusters.of(counts, 0.001).effectiveTrials(),
        1e-9,
        "a plan that reckons with less than the trials show does not help");
    assertTrue(Clusters.of(counts, 0.9).effectiveTrials() < clusters.effectiveTrials());
  }

  @Test
  void withoutAMissThePlanSaysWhatRepeatsAreWorthElseEachCanalIsOneTrial() {
    List<Proportion> canals = java.util.Collections.nCopies(12, new Proportion(18, 18));
    assertEquals(12, Clusters.of(canals, 0).effectiveTrials());
    // Kish: 216 / (1 + 17 · 0.1).
    assertEquals(80, Clusters.of(canals, 0.1).effectiveTrials(), 1e-12);
    assertEquals(1, Clusters.of(canals.subList(0, 1), 0).effectiveTrials(), "one canal only");
  }

  @Test
  void aClaimThatIndependentTrialsWouldHoldIsOpenWhereTheyShareFewCanals() {
    List<TrialResult> trials = stops(60, 20);
    assertEquals(Verdict.PASS, outcome(WITHIN, 60, trials, Repeats.NONE).verdict());
    ClaimOutcome shared = outcome(WITHIN, 60, trials, repeats(5, 0));
    assertEquals(Verdict.UNDECIDED, shared.verdict());
    // 0.05^(1/12) = 0.7791.
    assertEquals(0.7791, shared.interval().orElseThrow().low(), 1e-4);
    assertEquals(
        new Basis.Share(0.95, false, 12, Optional.of(new Basis.Clustering(12, "", 0))),
        shared.basis());
  }

  @Test
  void aMissingTrialCountsAgainstTheClaimInItsOwnCanal() {
    List<TrialResult> trials = stops(298, 20);
    assertEquals(Verdict.PASS, outcome(WITHIN, 298, trials, repeats(2, 0.1)).verdict());
    ClaimOutcome open = outcome(WITHIN, 330, trials, repeats(2, 0.1));
    assertEquals(Verdict.UNDECIDED, open.verdict());
  }

  @Test
  void theIntervalOfAMeanOverEqualCanalsIsStudentsOnTheirMeans() {
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < 40; i++) {
      trials.add(SampleRun.stop(i, 10 * (i / 4) + i % 4 * 2));
    }
    // Means of the ten canals: 3, 13, 23 … 93.
    Moments means = Moments.of(java.util.stream.LongStream.range(0, 10).map(k -> 10 * k + 3));
    ClaimOutcome outcome = outcome(BIAS, 40, trials, repeats(4, 0));
    Interval expected = means.meanInterval(0.9).orElseThrow();
    Interval seen = outcome.interval().orElseThrow();
    assertEquals(expected.low(), seen.low(), 1e-9);
    assertEquals(expected.high(), seen.high(), 1e-9);
    assertEquals(Verdict.PASS, outcome.verdict());
    assertEquals(Verdict.UNDECIDED, outcome(BIAS, 40, trials, repeats(40, 0)).verdict());
  }

  private static Repeats repeats(int each, double correlation) {
    return new Repeats(each, StatisticsChoice.DEFAULT, correlation, Map.of());
  }

  private static ClaimOutcome outcome(
      Claim claim, int planned, List<TrialResult> trials, Repeats repeats) {
    Condition condition = new Condition("half-wet", Expectation.STOP, planned, 500, 500);
    return ClaimOutcome.of(
        claim, List.of(ConditionSummary.of(condition, trials)), trials, repeats.over(trials));
  }

  private static List<TrialResult> stops(int count, int errorMicrons) {
    List<TrialResult> stops = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      stops.add(SampleRun.stop(i, errorMicrons));
    }
    return stops;
  }
}
