package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ClaimOutcome;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.claim.Repeats;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;

class ClaimWordsTest {
  private static final Claim WITHIN = new Claim(Claim.Endpoint.WITHIN, 500, 0.95, 0.95, List.of());
  private static final Claim BIAS = new Claim(Claim.Endpoint.BIAS, 100, 0, 0.95, List.of());

  @Test
  void theBoundOfAShareIsRoundedAwayFromTheLimit() {
    // 0.05^(1/58) = 0.94966.
    assertEquals(
        "58 of 58 trials; with 95 % confidence at least 94.96 %, against a limit of 95 %.",
        said(WITHIN, 58, stops(58, 20), Repeats.NONE));
  }

  @Test
  void trialsThatShareCanalsSayThatEachCanalCountsAsOneNumber() {
    Repeats five = new Repeats(5, StatisticsChoice.DEFAULT, Map.of());
    // 0.05^(1/12) = 0.77908.
    assertEquals(
        "60 of 60 trials in 12 canals; with 95 % confidence at least 77.90 %, against a limit of"
            + " 95 %. Each canal counts as one number, the share of its trials.",
        said(WITHIN, 60, stops(60, 20), five));
  }

  @Test
  void missingTrialsAreNamedWithWhatTheyCouldDo() {
    assertEquals(
        "122 of 122 trials; with 95 % confidence at least 97.57 %, against a limit of 95 %."
            + " 2 planned trials are missing; the claim would hold even if each of them counted"
            + " against it.",
        said(WITHIN, 124, stops(122, 20), Repeats.NONE));
    assertEquals(
        "59 of 59 trials; with 95 % confidence at least 95.04 %, against a limit of 95 %."
            + " 1 planned trial is missing and could decide it.",
        said(WITHIN, 60, stops(59, 20), Repeats.NONE));
  }

  @Test
  void whatCannotBeEstimatedIsSaidSo() {
    assertEquals("No trial was analysed: not estimable.", said(WITHIN, 1, List.of(), Repeats.NONE));
    assertEquals(
        "The spread of 20 stops is not estimable.", said(BIAS, 20, stops(20, 20), Repeats.NONE));
  }

  @Test
  void theVerdictNamesWhatDecided() {
    assertEquals("The claim holds.", verdict(stops(60, 20)));
    assertEquals("1 of 1 claim contradicted.", verdict(stops(60, 900)));
    assertEquals("No trial was run.", verdict(List.of()));
    List<TrialResult> unproven =
        stops(60, 20).stream()
            .map(t -> t.with(Verdict.UNDECIDED, Withheld.NOT_PROVEN.name(), "not proven"))
            .toList();
    assertEquals(
        "NOT_PROVEN: The bench is not proven. Every number is kept, and none decides until the bench"
            + " is in order.",
        verdict(unproven));
  }

  private static String verdict(List<TrialResult> trials) {
    return ClaimWords.meaning(CampaignSummary.of(List.of(condition(60)), List.of(WITHIN), trials));
  }

  private static String said(Claim claim, int planned, List<TrialResult> trials, Repeats repeats) {
    ClaimOutcome outcome =
        ClaimOutcome.of(
            claim,
            List.of(ConditionSummary.of(condition(planned), trials)),
            trials,
            repeats.over(trials));
    return ClaimWords.meaning(outcome);
  }

  private static Condition condition(int planned) {
    return new Condition("half-wet", Expectation.STOP, planned, 500, 500);
  }

  private static List<TrialResult> stops(int count, int errorMicrons) {
    List<TrialResult> stops = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      stops.add(SampleRun.stop(i, errorMicrons));
    }
    return stops;
  }
}
