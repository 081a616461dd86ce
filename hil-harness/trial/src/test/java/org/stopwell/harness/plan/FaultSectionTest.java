package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.Injection;

/** The section {@code faults} of a plan. */
class FaultSectionTest {
  private static final long MS = 1_000_000;

  @Test
  void aFaultSaysWhatWhenHowLongHowStrongAndWhatMustComeOfIt() throws Exception {
    Plan plan =
        read(
            """
            faults:
              - kind: jump
                since: turn
                at_ms: 1500
                for_ms: 0.5
                strength: 1.4
                seed: 7
                expect: fail
                cause: JUMPY
                within_ms: 60
            """);
    assertEquals(
        List.of(
            new PlannedFault(
                new Injection(FaultKind.JUMP, Injection.Since.TURN, 1500 * MS, MS / 2, 1.4),
                7,
                Verdict.FAIL,
                "JUMPY",
                60 * MS)),
        plan.trial(0).faults());
    assertEquals(7, plan.trial(0).faultPlan().seed());
    assertTrue(plan.hasFaults());
  }

  @Test
  void whatIsNotSaidIsUsualLastsToTheEndAndIsNotJudged() throws Exception {
    PlannedFault fault = read("faults: [{kind: noise}]").trial(0).faults().get(0);
    assertEquals(
        new Injection(FaultKind.NOISE, Injection.Since.MOUNT, 0, Long.MAX_VALUE, 0.4),
        fault.injection());
    assertTrue(!fault.isJudged());
    Plan plan = read("faults: [{kind: noise}]");
    assertEquals(plan.trial(0).scene().seed(), plan.trial(0).faultPlan().seed());
  }

  @Test
  void faultsOfThePlanAndOfALevelMeet() throws Exception {
    Plan plan =
        read(
            """
            faults: [{kind: hum}]
            factors:
              fault:
                none:
                noisy:
                  faults: [{kind: noise}]
            """);
    assertEquals(
        List.of(1, 2),
        plan.plannedConditions().stream()
            .map(condition -> condition.faults().size())
            .sorted()
            .toList());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "faults: yes | faults: yes is not a list",
        "faults: [noise] | faults: noise is not a group of keys",
        "faults: [{kind: nose}] | faults.kind: nose is not one of port_gone, ",
        "faults: [{at_ms: 3}] | faults.kind: missing",
        "faults: [{kind: noise, when_ms: 3}] | faults.when_ms: unknown key",
        "faults: [{kind: noise, strength: 6}] | 6 is outside 0.0 to 5.0 (standard deviation",
        "faults: [{kind: saturated, strength: 1}] | saturated has no strength",
        "faults: [{kind: noise, at_ms: -1}] | faults.at_ms: -1 ms is outside 0 to 3600000 ms",
        "faults: [{kind: noise, cause: LOUD}] | faults.cause: LOUD is not a code, reason or kind",
        "faults: [{kind: noise, expect: good}] | faults.expect: good is not one of pass, fail",
      })
  void aSlipIsNamedWithItsPlaceValueAndLimit(String section, String message) {
    PlanException e = assertThrows(PlanException.class, () -> read(section));
    assertTrue(e.toString().contains(message), e.toString());
    assertTrue(e.toString().contains("faults.yaml:8: "), e.toString());
  }

  private static Plan read(String section) throws PlanException {
    String plan =
        """
        plan: 1
        name: faults
        settings: length.yaml
        stage: length
        seed: 3
        trials: 1
        scene: {}
        """;
    Source settings =
        Source.of(TestPlans.file("first-stop").resolveSibling("../settings/reference-canal.yaml"));
    return Plan.read(new Source("faults.yaml", plan + section), settings);
  }
}
