package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.SensingNeeds;

/** Scene and checks of a plan follow the policies that its settings choose. */
class PolicyPlanTest {
  private static final String RATIO =
      """
      settings: 1
      name: told
      file: {size: 20, taper: 0.04}
      sense: {policy: ratio, low_hz: 630, high_hz: 6300}
      stages:
        length: {standoff_mm: 0.5, torque_ncm: 0.4}
      calibration:
        - {ratio: 0.4, remaining_mm: -1}
        - {ratio: 0.9, remaining_mm: 3}
      """;

  private static final String APPROACH =
      """
      settings: 1
      name: told
      file: {size: 20, taper: 0.04}
      sense: {policy: approach}
      stages:
        length: {standoff_mm: 0.5, torque_ncm: 0.4}
      """;

  private static final String PLAN =
      """
      plan: 1
      name: follows
      settings: told.yaml
      stage: length
      trials: 1
      """;

  @Test
  void theSceneMeasuresTheFrequenciesOfThePolicy() throws PlanException {
    assertEquals(
        List.of("630", "6300", "0", "0"), hertz(read(PLAN, RATIO).plannedConditions().get(0)));
    assertEquals(
        List.of("300", "1500", "7000", "20000"),
        hertz(read(PLAN, APPROACH).plannedConditions().get(0)));
    String written =
        PLAN
            + """
            scene:
              front_end: {frequency_1_hz: 300, frequency_2_hz: 1500, frequency_3_hz: 7000, frequency_4_hz: 20000}
            """;
    read(written, APPROACH);
    assertEquals(
        List.of(
            "plan.yaml:7: scene.front_end.frequency_2_hz: 1400 Hz leaves out 1500 Hz, which"
                + " sense.policy approach reads"),
        mistakes(
            PLAN
                + """
                scene:
                  front_end: {frequency_2_hz: 1400}
                """,
            APPROACH));
  }

  @Test
  void aKeyThatThePolicyDoesNotReadIsRefusedWithItsLine() {
    assertEquals(
        List.of("told.yaml:4: sense.low_hz: policy approach does not read this key; remove it"),
        mistakes(PLAN, APPROACH.replace("approach}", "approach, low_hz: 300}")));
    assertEquals(
        List.of("told.yaml:7: calibration: policy approach does not read this key; remove it"),
        mistakes(
            PLAN,
            APPROACH
                + """
                calibration:
                  - {ratio: 0.4, remaining_mm: -1}
                  - {ratio: 0.9, remaining_mm: 3}
                """));
    assertEquals(
        List.of("told.yaml:7: policies.sensing: unknown key; write sense.policy"),
        mistakes(PLAN, APPROACH + "policies: {sensing: built-in}\n"));
  }

  /** What the file says to its own policy is left out; what the level says itself is judged. */
  @Test
  void aLevelMayChooseAnotherPolicy() throws PlanException {
    String factors =
        PLAN
            + """
            factors:
              policy:
                ratio:
                approach:
                  settings: {sense: {policy: approach, refuse_bound_mm: 2}}
            """;
    List<PlannedCondition> conditions = read(factors, RATIO).plannedConditions();
    assertEquals(List.of("630", "6300", "0", "0"), hertz(conditions.get(0)));
    assertEquals(List.of("300", "1500", "7000", "20000"), hertz(conditions.get(1)));
    assertEquals(
        List.of(
            "plan.yaml:10: factors.policy.approach.settings.sense.low_hz: policy approach does not"
                + " read this key; remove it"),
        mistakes(factors.replace("refuse_bound_mm: 2", "low_hz: 300"), RATIO));
  }

  @Test
  void aPolicyFromOutsideIsReadWithItsOwnParameters() throws PlanException {
    Parameter second =
        Parameter.of("second_hz")
            .unit("Hz")
            .range("100", "20000")
            .initially("9000")
            .text("The upper frequency.")
            .source("assumed");
    Policies policies =
        Policies.BUILT_IN.withSensing(
            "two",
            SensingNeeds.impedance((sense, own) -> new int[] {500, own.getInt(second)}),
            new ParameterTable(List.of(second)),
            (all, own) -> (in, out) -> {});
    String settings = APPROACH.replace("approach", "two") + "policy: {two: {second_hz: 8000}}\n";
    Plan plan =
        Plan.read(new Source("plan.yaml", PLAN), new Source("told.yaml", settings), policies);
    assertEquals(List.of("500", "8000", "0", "0"), hertz(plan.plannedConditions().get(0)));
    ControllerSettings told = plan.controller(plan.trial(0));
    assertEquals("two", told.sensingPolicy());
    assertArrayEquals(new int[] {500, 8000}, told.sensedHertz());
    assertEquals(
        List.of(
            "told.yaml:4: sense.policy: two is not one of ratio, resistance, locator, approach"),
        mistakes(PLAN, APPROACH.replace("approach", "two")));
  }

  private static List<String> hertz(PlannedCondition condition) {
    Map<String, String> frontEnd = condition.scene().getOrDefault("front_end", Map.of());
    return List.of("1", "2", "3", "4").stream()
        .map(i -> frontEnd.getOrDefault("frequency_" + i + "_hz", "0"))
        .toList();
  }

  private static Plan read(String plan, String settings) throws PlanException {
    return Plan.read(new Source("plan.yaml", plan), new Source("told.yaml", settings));
  }

  private static List<String> mistakes(String plan, String settings) {
    return assertThrows(PlanException.class, () -> read(plan, settings)).mistakes().stream()
        .map(Mistake::toString)
        .toList();
  }
}
