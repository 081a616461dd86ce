package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TraceRecorder;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * Trials without a fault in and near the reference canal show none; drawn canals are not covered.
 */
class DiagnosisTest {
  private static final long MS = 1_000_000;

  @ParameterizedTest
  @ValueSource(
      strings = {
        "reference-canal",
        "two-policies",
        "resistor-network",
        "length-readings",
        "stage-feed"
      })
  void aSoundBenchIsNotTakenForABrokenOne(String name) throws Exception {
    Plan plan = Plan.read(Source.of(TestPlans.file(name)));
    Set<String> seen = new HashSet<>();
    List<String> accused = new ArrayList<>();
    for (int i = 0; i < plan.trials() && seen.size() < plan.plannedConditions().size(); i++) {
      TrialSpec spec = plan.trial(i);
      if (seen.add(spec.condition())) {
        TraceRecorder trace = new TraceRecorder();
        TrialResult result;
        try (VirtualBench bench = new VirtualBench(MS)) {
          bench.open();
          result =
              new TrialRunner(bench, plan.settings().controller())
                  .run(spec, trace, () -> Pace.lockstep(MS), () -> false)
                  .orElseThrow();
        }
        Diagnosis.of(result, trace.bytes())
            .ifPresent(kind -> accused.add(spec.condition() + ": " + kind));
      }
    }
    assertTrue(seen.size() == plan.plannedConditions().size());
    assertEquals(List.of(), accused);
  }
}
