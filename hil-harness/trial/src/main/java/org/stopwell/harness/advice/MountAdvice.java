package org.stopwell.harness.advice;

import java.util.List;
import java.util.function.Consumer;
import org.stopwell.harness.plan.Mount;
import org.stopwell.harness.plan.Plan;

/** States how the teeth of a plan are mounted. */
final class MountAdvice {
  private MountAdvice() {}

  static void print(Plan plan, Consumer<String> out) {
    List<String> mounts =
        plan.plannedConditions().stream()
            .flatMap(c -> c.mount().stream())
            .map(Mount::words)
            .distinct()
            .toList();
    if (!mounts.isEmpty()) {
      out.accept("  tooth mount: " + String.join("; ", mounts));
    }
  }
}
