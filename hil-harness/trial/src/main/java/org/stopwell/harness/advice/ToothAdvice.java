package org.stopwell.harness.advice;

import java.util.IntSummaryStatistics;
import java.util.Locale;
import java.util.function.Consumer;
import org.stopwell.harness.plan.ExtractedTooth;
import org.stopwell.harness.plan.Plan;

/** States how well the truth of the extracted teeth of a plan is known. */
final class ToothAdvice {
  /** A tolerance must be at least four times the uncertainty, as for every bench. */
  private static final int UNCERTAINTY_RATIO = 4;

  private ToothAdvice() {}

  static void print(Plan plan, Consumer<String> out) {
    IntSummaryStatistics u =
        plan.teeth().stream().mapToInt(ExtractedTooth::standardMicrons).summaryStatistics();
    out.accept(
        String.format(
            Locale.ROOT,
            "  %d extracted teeth; standard uncertainty of their lengths %.3f to %.3f mm",
            plan.teeth().size(),
            u.getMin() / 1e3,
            u.getMax() / 1e3));
    double limit = plan.head().toleranceMicrons() / 1e3 / UNCERTAINTY_RATIO;
    double expanded = 2 * u.getMax() / 1e3;
    if (expanded > limit) {
      out.accept(
          String.format(
              Locale.ROOT,
              "  the expanded uncertainty (k = 2) of a length is %.3f mm, above a quarter of the"
                  + " tolerance, %.3f mm: hardware verdicts will be UNDECIDED (NOT_CAPABLE)",
              expanded,
              limit));
    }
  }
}
