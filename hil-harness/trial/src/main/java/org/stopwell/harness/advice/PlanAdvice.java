package org.stopwell.harness.advice;

import java.util.List;
import java.util.function.Consumer;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.SettingsGroup;

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
    if (plan.isExternal()) {
      DeviceAdvice.print(plan, out);
      MountAdvice.print(plan, out);
      ChainAdvice.print(plan, out);
      BlindAdvice.print(plan, out);
      return;
    }
    List<SettingsGroup> groups = SettingsGroup.of(plan);
    for (SettingsGroup group : groups) {
      if (groups.size() > 1 || !group.changes().isEmpty()) {
        out.accept("  " + group.sentence());
      }
      TorqueMargin.print(group.settings(), out);
      StrokeAdvice.print(group.settings(), plan, out);
      FeedAdvice.print(group, plan, out);
      MonitorAdvice.print(group, plan, out);
    }
    if (plan.teeth().isEmpty()) {
      FluidAdvice.print(plan, out);
    } else {
      ToothAdvice.print(plan, out);
      MountAdvice.print(plan, out);
    }
    BlindAdvice.print(plan, out);
    SentinelAdvice.of(plan).forEach(line -> out.accept("  sentinels: " + line));
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
