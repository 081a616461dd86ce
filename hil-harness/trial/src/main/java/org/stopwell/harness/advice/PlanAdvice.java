package org.stopwell.harness.advice;

import java.util.List;
import java.util.function.Consumer;
import org.stopwell.harness.plan.Arm;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Settings;

/** Everything that can be said of a plan or of settings before a trial, line by line. */
public final class PlanAdvice {
  private PlanAdvice() {}

  /**
   * Advice on a plan: per combination of settings, then per condition.
   *
   * @param plan the checked plan
   * @param out receives the lines
   */
  public static void of(Plan plan, Consumer<String> out) {
    List<Arm> arms = Arm.of(plan);
    for (Arm arm : arms) {
      if (arms.size() > 1 || !arm.changes().isEmpty()) {
        out.accept("  " + arm.sentence());
      }
      TorqueMargin.print(arm.settings(), out);
      StrokeAdvice.print(arm.settings(), plan, out);
      FeedAdvice.print(arm, plan, out);
      MonitorAdvice.print(arm, plan, out);
    }
    FluidAdvice.print(plan, out);
  }

  /**
   * Advice on settings, of which neither hand nor canal is known.
   *
   * @param settings the checked settings
   * @param out receives the lines
   */
  public static void of(Settings settings, Consumer<String> out) {
    TorqueMargin.print(settings, out);
    StrokeAdvice.print(settings, out);
    FeedAdvice.print(settings, out);
    MonitorAdvice.print(settings, out);
    FluidAdvice.print(settings, out);
  }
}
