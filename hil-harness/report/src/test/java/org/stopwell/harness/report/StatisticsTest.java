package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.StatisticsReader;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.record.Design;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;

/** The statistics on the page are those that the plan asks for, and no more than the data carry. */
class StatisticsTest {
  /** Ten canals, three repeats of each, with the hand as a chosen factor of two levels. */
  private static final int CANALS = 10;

  private static final String FACTORS =
      """
      factors:
        canal: {c0: {}, c1: {}, c2: {}, c3: {}, c4: {}, c5: {}, c6: {}, c7: {}, c8: {}, c9: {}}
        hand: {slow: {}, quick: {}}
      """;

  @Test
  void withoutAWordInThePlanCoverageRepeatabilityAndAgreementAreShown() {
    String page = page("", trials(1));
    assertEquals(
        List.of(
            "Trials without a stop",
            "Where 95 % of stops lie",
            "Least and greatest",
            "Repeatability s_r",
            "Reading against truth"),
        new ReadPage(page).findingNames());
    assertFalse(page.contains("At every look"));
    assertFalse(page.contains("one-sided t tests"));
  }

  @Test
  void aPlanThatAsksForNothingGetsNothing() {
    String page =
        page("analysis: {coverage: false, precision: false, agreement: false}", trials(1));
    assertFalse(page.contains("statistics-section"));
  }

  @Test
  void canalsAsGroupsShowWhatLiesBetweenThemAndCountAsOneNumberEach() {
    String page = page("analysis: {groups: [canal], margin_mm: 0.1, sequential: true}", trials(1));
    assertTrue(page.contains("Trials repeat levels of canal"));
    assertFalse(page.contains("Least and greatest"), "repeats are not independent");
    assertTrue(page.contains("t with 9 degrees of freedom"));
    assertTrue(page.contains("Between levels of canal"));
    assertTrue(page.contains("Reproducibility s_R"));
    assertTrue(page.contains("Each level of canal counts as one number"));
    // 60 of 60 within on ten canals: 0.025^(1/10) = 0.6915.
    assertTrue(page.contains("60 of 60; 69.1 to 100.0\u00a0%"), page);
    assertTrue(page.contains("two one-sided t tests".replace("two", "Two")));
    assertTrue(page.contains("At every look: within tolerance"));
    assertTrue(page.contains("repeats by canal as in 1999"));
  }

  @Test
  void theIntervalsAtTheHeadCountEachCanalAsOneNumber() {
    ReadPage page = new ReadPage(page("analysis: {groups: [canal]}", trials(1)));
    // Ten canals without a miss: 0.025^(1/10) = 0.6915 and 1 - 0.05^(1/10) = 0.2589; sixty trials
    // with a canal each would give 94.0 % and 4.87 %.
    assertEquals("100.0 %; 95 % interval 69.1 to 100.0 %", page.fact("Within ±0.5 mm").get(1));
    assertEquals(
        "of the driven trials; with 95 % confidence at most 25.89 %",
        page.fact("Past the foramen").get(1));
    // Means of canals at -90, -70 ... +90 µm: 60.553 / sqrt(10) times t of nine, 2.2622, is 43.32.
    assertEquals(
        "95 % interval −0.044 to +0.044 mm; 0 of 60 trials have no stop",
        page.fact("Mean stop error (bias)").get(1));
  }

  @Test
  void theDeviationBetweenCanalsIsTheOneThatWasPutIn() {
    // Canals at −90, −70 … +90 µm: deviation 60.55 µm. Repeats at −10, 0, +10 µm for both hands:
    // 4000 µm² about the canals, with 60 − 10 − 1 degrees of freedom, since the hand is fixed.
    ReadPage page = new ReadPage(page("analysis: {groups: [canal]}", trials(1)));
    double within = 4000.0 / 49;
    double between = 60.553 * 60.553 - within / 6; // (6 · 60.553² − within) / 6
    assertEquals(60.44, Math.sqrt(between), 0.01);
    assertValue("0.060 mm", page, "Between levels of canal");
    assertEquals(9.04, Math.sqrt(within), 0.01);
    assertValue("0.009 mm", page, "Repeatability s_r");
    assertEquals(61.11, Math.sqrt(between + within), 0.01);
    assertValue("0.061 mm", page, "Reproducibility s_R");
  }

  /** The number before its interval. */
  private static void assertValue(String expected, ReadPage page, String finding) {
    assertEquals(expected, page.finding(finding).get(0).replaceFirst(", 95 %.*", ""), finding);
  }

  @Test
  void degenerateDataAreNotEstimableAndNeverNaN() {
    for (int n : new int[] {0, 1, 2, 3}) {
      String page =
          page(
              "analysis: {groups: [canal, hand], margin_mm: 0.1, sequential: true}",
              trials(0).subList(0, n));
      assertTrue(page.contains("not estimable"), "n = " + n);
      assertFalse(page.contains("NaN") || page.contains("Infinity"), "n = " + n);
    }
  }

  private static String page(String analysis, List<TrialResult> trials) {
    RunHeader h = SampleRun.header(1, 0);
    List<Condition> conditions = new ArrayList<>();
    for (int c = 0; c < CANALS; c++) {
      for (String hand : List.of("slow", "quick")) {
        conditions.add(new Condition("c" + c + "/" + hand, Expectation.STOP, 3, 500, 500));
      }
    }
    RunHeader header =
        new RunHeader(
            h.planName(),
            FACTORS + analysis + "\n",
            h.settingsYaml(),
            h.build(),
            h.bench(),
            h.campaignSeed(),
            conditions,
            List.of(
                new Claim(Claim.Endpoint.WITHIN, 500, 0.9, 0.95, List.of()),
                new Claim(Claim.Endpoint.OVER_TRAVEL, 0, 0.1, 0.95, List.of())),
            h.startedAt(),
            h.command(),
            h.protocol(),
            h.registration(),
            design(FACTORS + analysis + "\n"));
    return ReportPage.html(header, trials, Map.of());
  }

  private static Design design(String plan) {
    try {
      return new Design(
          Optional.of(StatisticsReader.read(new Source("plan", plan))),
          List.of(),
          Map.of(),
          Optional.empty(),
          true,
          "");
    } catch (PlanException e) {
      throw new AssertionError(e);
    }
  }

  /** Two hands, ten canals, three repeats; a scale of 0 makes all stops equal. */
  private static List<TrialResult> trials(int scale) {
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < CANALS * 6; i++) {
      int canal = i / 6;
      int error = scale * (20 * canal - 90 + 10 * (i % 3 - 1));
      trials.add(
          SampleRun.stop(i, error)
              .with("c" + canal + "/" + (i / 3 % 2 == 0 ? "slow" : "quick"))
              .with(new ErrorChain(error / 2, error - error / 2 - 5, 5, 0, 0, 0)));
    }
    assertEquals(60, trials.size());
    return trials;
  }
}
