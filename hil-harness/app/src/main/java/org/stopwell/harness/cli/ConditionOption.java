package org.stopwell.harness.cli;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.trial.Condition;

/** The condition of a plan that a command works on. */
final class ConditionOption {
  private ConditionOption() {}

  /** The named condition, or the only one. */
  static String of(Plan plan, @Nullable String named) throws UsageException {
    List<String> names = plan.conditions().stream().map(Condition::name).toList();
    if (named == null && names.size() == 1) {
      return names.get(0);
    }
    if (named == null || !names.contains(named)) {
      throw new UsageException(
          (named == null ? "--condition: name one of " : "--condition " + named + ": not one of ")
              + String.join(", ", names));
    }
    return named;
  }
}
