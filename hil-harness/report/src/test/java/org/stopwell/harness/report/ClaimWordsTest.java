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
    Repeats five = new Repeats(5, false, StatisticsChoice.DEFAULT, false, Map.of());
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
    assertEquals("No trial counts: not estimable.", said(WITHIN, 1, List.of(), Repeats.NONE));
    assertEquals(
        "The spread of 20 stops is not estimable. 0 of 20 trials have no stop, with 95 % confidence"
            + " at most 13.92 %, against a limit of 5 %.",
        said(BIAS, 20, stops(20, 20), Repeats.NONE));
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

  @Test
  void aClaimSaysOverWhichConditionsItPools() {
    List<Condition> one = List.of(condition(60));
    assertEquals(
        "At least 95 % of trials stop within ±0.5 mm of the standoff, in condition half-wet, with"
            + " 95 % confidence.",
        sentence(one, WITHIN));
    List<Condition> three =
        List.of(
            new Condition("slow", Expectation.STOP, 60, 500, 500),
            new Condition("quick", Expectation.STOP, 60, 500, 500),
            new Condition("dry", Expectation.REFUSE, 60, 500, 500));
    assertEquals(
        "The mean stop error lies within ±0.1 mm, over 2 of the 3 conditions together, with 95 %"
            + " confidence.",
        sentence(three, BIAS));
    assertEquals(
        "Of the driven trials that must stop, at most 5 % go past the foramen, over the 2"
            + " conditions together, with 95 % confidence.",
        sentence(
            three.subList(0, 2), new Claim(Claim.Endpoint.OVER_TRAVEL, 0, 0.05, 0.95, List.of())));
    assertEquals(
        "At least 95 % of trials stop within ±0.5 mm of the standoff, in each of the 2 conditions,"
            + " with 95 % confidence for all of them together.",
        sentence(
            three.subList(0, 2),
            new Claim(Claim.Endpoint.WITHIN, 500, 0.95, 0.95, List.of(), true, 0)));
  }

  @Test
  void whatAClaimOverSeveralConditionsHidesIsSaid() {
    List<Condition> two =
        List.of(
            new Condition("slow", Expectation.STOP, 100, 500, 500),
            new Condition("quick", Expectation.STOP, 20, 500, 500));
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < 120; i++) {
      int off = i % 2 == 0 ? 20 : -20;
      trials.add(SampleRun.stop(i, (i < 100 ? 0 : -117) + off).with(i < 100 ? "slow" : "quick"));
    }
    Claim past = new Claim(Claim.Endpoint.WITHIN, 100, 0.8, 0.95, List.of());
    CampaignSummary summary = CampaignSummary.of(two, List.of(BIAS, past), trials);
    assertEquals(Verdict.PASS, summary.verdict());
    // Student, 19 degrees of freedom: −117 ± 1.729 · 20.52 / √20. Clopper and Pearson: 10 of 20.
    assertEquals(
        List.of(
            "Claim 1 is about 2 conditions together. The trials of condition quick alone contradict"
                + " it: mean −0.117 mm, 90 % interval −0.125 to −0.109 mm, against a margin of ±0.1"
                + " mm.",
            "Claim 2 is about 2 conditions together. The trials of condition quick alone contradict"
                + " it: 10 of 20 trials, with 95 % confidence at most 69.81 %, against a limit of"
                + " 80 %."),
        ClaimWords.cautions(summary));
  }

  @Test
  void refusalsAreCountedAgainstAMean() {
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < 60; i++) {
      trials.add(i < 56 ? SampleRun.stop(i, i % 2 == 0 ? 10 : -10) : refused(i));
    }
    // 56 stops at ±10 µm and 4 at ±10 µm to one side: mean ±0.67 µm, Student with 59.
    assertEquals(
        "Mean 0.000 mm over 56 stops; 90 % interval −0.003 to +0.003 mm, against a margin of ±0.1"
            + " mm. 4 of 60 trials have no stop, with 95 % confidence at most 14.61 %, against a"
            + " limit of 5 %. With each of them at the error of the worst stop, to either side, the"
            + " interval of the mean would be −0.003 to +0.003 mm.",
        said(BIAS, 60, trials, Repeats.NONE));
  }

  private static TrialResult refused(int index) {
    return SampleRun.refusedAt(index, "half-wet", 9000);
  }

  private static String sentence(List<Condition> conditions, Claim claim) {
    return ClaimWords.sentence(
        CampaignSummary.of(conditions, List.of(claim), List.of()).claims().get(0));
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
