package org.stopwell.harness.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/** A planned rest past the foramen, or by the depth axis, can pass and can fail. */
class PlannedRestTest {
  private static final long MS = 1_000_000;

  @ParameterizedTest
  @CsvSource({
    "patency, AT_STANDOFF",
    "depth-limit, AT_DEPTH_LIMIT",
    "open, AT_DEPTH_LIMIT",
    "shape, AT_DEPTH_LIMIT",
    "motions, AT_STANDOFF"
  })
  void theShippedPlansPass(String name, String code) throws Exception {
    Plan plan = plan(name);
    for (int i = 0; i < plan.plannedConditions().size(); i++) {
      TrialResult result = run(plan, plan.trial(i));
      assertEquals("PASS " + code, result.verdict() + " " + result.code(), result.message());
      assertEquals(code.equals("AT_STANDOFF"), result.stopped());
      assertTrue(result.rested());
      assertEquals(
          result.condition().equals("low torque limit"), result.depth().torqueReactions() > 0);
    }
  }

  @Test
  void aFileThatTheCanalHoldsBackHasNotReachedTheLimit() throws Exception {
    Plan plan = plan("open");
    TrialSpec spec = plan.trial(0);
    ControllerSettings weak =
        plan.settings().with("stages: {open: {torque_ncm: 0.05, retries: 2}}").controller();
    try (VirtualBench bench = new VirtualBench(MS)) {
      bench.open();
      TrialResult result =
          new TrialRunner(bench, weak)
              .run(spec, null, () -> Pace.lockstep(MS), () -> false)
              .orElseThrow();
      assertEquals("FAIL NOT_REACHED", result.verdict() + " " + result.code(), result.message());
      assertTrue(result.depth().overrunMicrons() < -1_000, result.message());
      assertFalse(result.rested());
    }
  }

  @Test
  void aPatencyTrialInItsBandIsNoOverTravelAndTheSameTrialUnplannedIs() throws Exception {
    Plan plan = plan("patency");
    TrialResult result = run(plan, plan.trial(0));
    Condition planned = plan.conditions().get(0);
    assertTrue(result.deepestMicrons() < 0, "the file was past the foramen");
    assertEquals(-900, planned.overTravelBelowMicrons());
    assertFalse(planned.isOverTravel(result));
    assertEquals(0, ConditionSummary.of(planned, List.of(result)).overTravel().count());
    Condition unplanned = new Condition("c", Expectation.STOP, 1, -500, 400);
    assertTrue(unplanned.isOverTravel(result));
    assertEquals(1, ConditionSummary.of(unplanned, List.of(result)).overTravel().count());
    Condition narrow = new Condition("c", Expectation.PATENCY, 1, -100, 50);
    assertTrue(narrow.isOverTravel(result), "past the far edge of the band");
  }

  @Test
  void apicalReverseTakesTheFileOutByTheStatedAmount() throws Exception {
    Plan plan = plan("motions");
    int i = 0;
    while (!plan.trial(i).condition().equals("apical reverse/stage")) {
      i++;
    }
    TrialResult result = run(plan, plan.trial(i));
    // One turn back at 0.15 mm per turn, with a feed that stands as soon as the motor turns round.
    assertEquals(150, result.remainingMicrons() - result.deepestMicrons(), 20);
  }

  private static Plan plan(String name) throws Exception {
    return Plan.read(Source.of(Path.of("..", "..", "docs", "plans", name + ".yaml")));
  }

  private static TrialResult run(Plan plan, TrialSpec spec) throws Exception {
    try (VirtualBench bench = new VirtualBench(MS)) {
      bench.open();
      return new TrialRunner(bench, plan.controller(spec))
          .run(spec, null, () -> Pace.lockstep(MS), () -> false)
          .orElseThrow();
    }
  }
}
