package org.stopwell.harness.advice;

import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Locale;
import java.util.function.Consumer;
import org.stopwell.harness.plan.Mount;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.ToothZero;

/** States how the teeth of a plan are mounted, and how well their zero is known. */
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
    DoubleSummaryStatistics zeros =
        plan.teeth().stream()
            .flatMap(t -> t.zero().stream())
            .mapToDouble(ToothZero::expandedMicrons)
            .summaryStatistics();
    if (zeros.getCount() > 0) {
      out.accept(
          String.format(
              Locale.ROOT,
              "  true zero read by two observers in %d of %d teeth; U95 %.0f to %.0f µm",
              zeros.getCount(),
              plan.teeth().size(),
              Math.ceil(zeros.getMin()),
              Math.ceil(zeros.getMax())));
    }
  }
}
