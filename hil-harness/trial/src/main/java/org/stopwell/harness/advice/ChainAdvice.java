package org.stopwell.harness.advice;

import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.Consumer;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlannedCondition;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.virtual.ToothChain;

/** States how well a chain of resistors and capacitors shows the teeth of a plan. */
final class ChainAdvice {
  /** What makes a tooth; conditions that differ in something else share a line. */
  private static final List<String> TOOTH = List.of("canal", "fluid", "file");

  private ChainAdvice() {}

  static void print(Plan plan, Consumer<String> out) {
    Set<String> conditions = new HashSet<>();
    Set<List<Object>> teeth = new HashSet<>();
    List<PlannedCondition> planned = plan.plannedConditions();
    for (int i = 0; i < plan.trials() && conditions.size() < planned.size(); i++) {
      TrialSpec trial = plan.trial(i);
      if (conditions.add(trial.condition())
          && ToothChain.isWantedBy(trial.scene())
          && teeth.add(tooth(planned, trial.condition()))) {
        print(trial, out);
      }
    }
  }

  private static List<Object> tooth(List<PlannedCondition> planned, String name) {
    PlannedCondition condition =
        planned.stream().filter(each -> each.name().equals(name)).findFirst().orElseThrow();
    Map<String, Map<String, String>> scene = condition.scene();
    return List.of(
        TOOTH.stream().map(section -> scene.getOrDefault(section, Map.of())).toList(),
        condition.fill());
  }

  private static void print(TrialSpec trial, Consumer<String> out) {
    ToothChain.Miss miss = ToothChain.near(trial.scene());
    out.accept(
        String.format(
            Locale.ROOT,
            "  chain, first tooth of %s: magnitude within %.1f %%, phase within %.1f° from 0.2 to 20 kHz%s",
            trial.condition(),
            100 * miss.magnitude(),
            miss.degrees(),
            miss.isWithin()
                ? ""
                : ": outside of 3 % or 5°, so a device may take it for another tooth"));
  }
}
