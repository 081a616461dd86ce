package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.Injection;

/**
 * Every number of a plan from its text, in the units of people, to what trials and claims get. The
 * defaults are copied by hand: the page of keys and the schema are made from the tables in the
 * code, and a wrong table would make wrong pages.
 */
class PlanNumbersTest {
  private static final String LEAST =
      """
      plan: 1
      name: numbers
      settings: settings.yaml
      stage: length
      trials: 2
      scene: {canal: {kind: resistors}}
      """;

  private static final String FACTORS = "factors: {hand: {slow: {}, quick: {}}}\n";

  @Test
  void theDefaultsOfAPlanAreTheStatedOnes() throws Exception {
    Plan plan = read(LEAST + FACTORS);
    assertEquals(1, plan.head().seed());
    assertEquals(2, plan.head().trials());
    assertEquals(500, plan.head().toleranceMicrons());
    assertEquals(60_000_000_000L, plan.head().timeLimitNs());
    TrialSpec trial = plan.trial(0);
    assertEquals(500, trial.toleranceMicrons());
    assertEquals(60_000_000_000L, trial.timeLimitNs());
    assertEquals(1, plan.protocol().canalTrials());
    assertEquals(0, plan.protocol().afterRigFault());
    assertEquals(0, plan.protocol().lateStepNs());
    assertEquals(StoppingRule.FIXED, plan.protocol().stopping());
    assertEquals(0, plan.analysis().marginMicrons());
    assertEquals(0.95, plan.analysis().share());
    assertEquals(0.95, plan.analysis().confidence());
  }

  @Test
  void theNumbersOfAPlanReachItsTrials() throws Exception {
    Plan plan =
        read(
            LEAST.replace("trials: 2", "trials: 3")
                + """
                seed: 77
                tolerance_mm: 0.123
                time_limit_s: 2.5
                exclude: {after_rig_fault: 4, late_step_ms: 7.5}
                analysis: {margin_mm: 0.08, share: 0.9, confidence: 0.99}
                """
                + FACTORS);
    assertEquals(77, plan.head().seed());
    assertEquals(6, plan.trials());
    TrialSpec trial = plan.trial(5);
    assertEquals(123, trial.toleranceMicrons());
    assertEquals(2_500_000_000L, trial.timeLimitNs());
    assertEquals(3, plan.conditions().get(0).plannedTrials());
    assertEquals(123, plan.conditions().get(0).toleranceMicrons());
    assertEquals(4, plan.protocol().afterRigFault());
    assertEquals(7_500_000, plan.protocol().lateStepNs());
    assertEquals(80, plan.analysis().marginMicrons());
    assertEquals(0.9, plan.analysis().share());
    assertEquals(0.99, plan.analysis().confidence());
  }

  @Test
  void theNumbersOfClaimsAreThoseOfThePlan() throws Exception {
    List<Claim> claims =
        read(LEAST
                + """
                    claims:
                      within: {share: 0.9, confidence: 0.99, band_mm: 0.25}
                      over_travel: {share: 0.03, each: condition}
                      bias: {margin_mm: 0.11, confidence: 0.9, refused_at_most: 0.12}
                    """
                + FACTORS)
            .claims();
    Claim within = claims.get(0);
    assertEquals(Claim.Endpoint.WITHIN, within.endpoint());
    assertEquals(250, within.withinMicrons());
    assertEquals(0.9, within.share());
    assertEquals(0.99, within.confidence());
    Claim past = claims.get(1);
    assertEquals(Claim.Endpoint.OVER_TRAVEL, past.endpoint());
    assertEquals(0.03, past.share());
    assertEquals(0.95, past.confidence(), "default");
    Claim bias = claims.get(2);
    assertEquals(Claim.Endpoint.BIAS, bias.endpoint());
    assertEquals(110, bias.withinMicrons());
    assertEquals(0.9, bias.confidence());
    assertEquals(0.12, bias.refusedAtMost());
    assertEquals(
        List.of(false, true, false), claims.stream().map(Claim::each).toList(), "each: condition");
    assertEquals(0, past.refusedAtMost(), "refusals are no part of it");
    assertEquals(0.99, past.inEachOf(5).confidence(), 1e-12, "0.05 for five conditions");
    assertEquals(0.9, bias.inEachOf(5).confidence(), "all conditions together");
  }

  @Test
  void aClaimOnTheMeanToleratesFivePercentWithoutAStopWhereThePlanSaysNothing() throws Exception {
    Claim bias = read(LEAST + "claims: {bias: {margin_mm: 0.1}}\n" + FACTORS).claims().get(0);
    assertEquals(0.05, bias.refusedAtMost());
    assertEquals(false, bias.each());
  }

  @Test
  void aClaimWithoutABandTakesTheToleranceOfThePlan() throws Exception {
    Claim within =
        read(LEAST + "tolerance_mm: 0.3\nclaims: {within: {share: 0.9}}\n" + FACTORS)
            .claims()
            .get(0);
    assertEquals(300, within.withinMicrons());
    assertEquals(0.95, within.confidence());
  }

  @Test
  void theNumbersOfAStoppingRuleAreThoseOfThePlan() throws Exception {
    String claims = "claims: {within: {share: 0.8}}\nendpoints: {primary: stop_error}\n";
    String trials = LEAST.replace("trials: 2", "trials: 60");
    StoppingRule sprt =
        read(trials
                + claims
                + "stop: {rule: sprt, claim: within, good_share: 0.97, power: 0.85}\n"
                + FACTORS)
            .protocol()
            .stopping();
    assertEquals(StoppingRule.Kind.SPRT, sprt.kind());
    assertEquals(Claim.Endpoint.WITHIN, sprt.claim());
    assertEquals(0.97, sprt.goodShare());
    assertEquals(0.85, sprt.power());
    StoppingRule looks =
        read(trials
                + claims
                + "stop: {rule: group-sequential, claim: within, looks: 3, shape: 0.25}\n"
                + FACTORS)
            .protocol()
            .stopping();
    assertEquals(3, looks.looks());
    assertEquals(0.25, looks.shape());
    StoppingRule usual =
        read(trials + claims + "stop: {rule: group-sequential, claim: within}\n" + FACTORS)
            .protocol()
            .stopping();
    assertEquals(4, usual.looks());
    assertEquals(0, usual.shape());
  }

  @Test
  void theNumbersOfAFaultAreThoseOfThePlan() throws Exception {
    PlannedFault fault =
        fault(
            "{kind: drift, since: turn, at_ms: 12.5, for_ms: 300, strength: -0.25, seed: 9,"
                + " expect: rig_fault, cause: LATE, within_ms: 40.5}");
    assertEquals(
        new Injection(FaultKind.DRIFT, Injection.Since.TURN, 12_500_000, 300_000_000, -0.25),
        fault.injection());
    assertEquals(9, fault.seed());
    assertEquals(Verdict.RIG_FAULT, fault.verdict());
    assertEquals("LATE", fault.cause());
    assertEquals(40_500_000, fault.withinNs());
  }

  @Test
  void aFaultWithItsKindAloneStartsAtTheMountAndLasts() throws Exception {
    PlannedFault fault = fault("{kind: drift}");
    assertEquals(FaultKind.DRIFT, fault.injection().kind());
    assertEquals(Injection.Since.MOUNT, fault.injection().since());
    assertEquals(0, fault.injection().startNs());
    assertTrue(fault.injection().durationNs() > 3_600_000_000_000L, "to the end of the trial");
    assertEquals(0.01, fault.injection().strength(), "1 % per second");
    assertEquals(0, fault.withinNs());
    assertFalse(fault.isJudged());
  }

  /** The range of each number: what lies just outside is named with the range. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "tolerance_mm: 0.009 | tolerance_mm: 0.009 mm is outside 0.01 to 5 mm",
        "tolerance_mm: 5.001 | tolerance_mm: 5.001 mm is outside 0.01 to 5 mm",
        "time_limit_s: 0.09 | time_limit_s: 0.09 s is outside 0.1 to 3600 s",
        "time_limit_s: 3601 | time_limit_s: 3601 s is outside 0.1 to 3600 s",
        "canal_trials: 1001 | canal_trials: 1001 trials is outside 1 to 1000 trials",
        "exclude: {after_rig_fault: 101} | exclude.after_rig_fault: 101 trials is outside 0 to 100 trials",
        "exclude: {late_step_ms: 20.1} | exclude.late_step_ms: 20.1 ms is outside 0 to 20 ms",
        "analysis: {margin_mm: 5.1} | analysis.margin_mm: 5.1 mm is outside 0 to 5 mm",
        "analysis: {share: 0.49} | analysis.share: 0.49 is outside 0.5 to 0.9999",
      })
  void aNumberOutsideItsRangeIsRefused(String line, String message) {
    PlanException e = assertThrows(PlanException.class, () -> read(LEAST + line + "\n" + FACTORS));
    assertTrue(
        e.mistakes().stream().anyMatch(m -> (m.key() + ": " + m.message()).equals(message)),
        e.mistakes().toString());
  }

  private static PlannedFault fault(String text) throws PlanException {
    return read(LEAST + "faults: [" + text + "]\n" + FACTORS).trial(0).faults().get(0);
  }

  private static Plan read(String text) throws PlanException {
    return Plan.read(
        new Source("plan.yaml", text),
        Source.of(TestPlans.file("first-stop").resolveSibling("../settings/resistance.yaml")));
  }
}
