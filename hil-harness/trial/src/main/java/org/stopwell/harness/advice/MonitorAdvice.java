package org.stopwell.harness.advice;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Consumer;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.guard.StopMonitor;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlannedCondition;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.SettingsGroup;
import org.stopwell.rig.bench.HandSection;

/** States the second quantity that monitors the stop, or that there is none. */
final class MonitorAdvice {
  private MonitorAdvice() {}

  /** For settings: the bench is not known, so its depth axis is a condition. */
  static void print(Settings settings, Consumer<String> out) {
    ControllerSettings all = settings.controller();
    for (Stage stage : Stage.values()) {
      if (stops(all, stage)) {
        boolean magnitude = StopMonitor.watchesMagnitude(all, stage);
        out.accept(
            magnitude
                ? monitor(all, stage, "the magnitude at low_hz")
                : none(all, stage, " unless the bench has a depth axis"));
      }
    }
  }

  /** For the settings of a plan, whose scenes say whether there is a depth axis. */
  static void print(SettingsGroup group, Plan plan, Consumer<String> out) {
    ControllerSettings all = group.settings().controller();
    if (!stops(all, group.stage())) {
      return;
    }
    List<String> without =
        plan.plannedConditions().stream()
            .filter(
                condition -> group.conditions().contains(condition.name()) && !hasAxis(condition))
            .map(PlannedCondition::name)
            .toList();
    if (StopMonitor.watchesMagnitude(all, group.stage())) {
      String axis = without.isEmpty() ? " and the depth axis" : "";
      out.accept(monitor(all, group.stage(), "the magnitude at low_hz" + axis));
    } else if (without.isEmpty()) {
      out.accept(monitor(all, group.stage(), "the depth axis"));
    } else {
      boolean some = without.size() < group.conditions().size();
      out.accept(none(all, group.stage(), some ? " in " + String.join(", ", without) : ""));
    }
  }

  private static boolean stops(ControllerSettings all, Stage stage) {
    return all.has(stage)
        && !all.stage(stage).choice(StageParameters.APICAL).equals(StageParameters.NONE);
  }

  private static boolean hasAxis(PlannedCondition condition) {
    return HandSection.PRESENT.equals(
        condition.scene().getOrDefault("hand", Map.of()).get(HandSection.DEPTH_AXIS.key()));
  }

  private static String monitor(ControllerSettings all, Stage stage, String quantity) {
    String margin =
        GuardParameters.MONITOR_MARGIN.human(
            all.section("guard").get(GuardParameters.MONITOR_MARGIN));
    return name(stage)
        + "independent monitor: "
        + quantity
        + ", "
        + margin
        + " mm beyond the standoff";
  }

  private static String none(ControllerSettings all, Stage stage, String where) {
    return name(stage) + "no independent monitor" + where + ": " + why(all, stage);
  }

  private static String name(Stage stage) {
    return "  " + stage.name().toLowerCase(Locale.ROOT) + ": ";
  }

  private static String why(ControllerSettings all, Stage stage) {
    return switch (all.sensing().single()) {
      case NONE -> "sense.policy " + all.sensingPolicy() + " uses every signal that is measured";
      case DISTANCE -> "the only signal is the locator's distance";
      case MAGNITUDE -> "the only signal is the magnitude at low_hz";
      case RATIO ->
          all.stage(stage).get(StageParameters.STANDOFF) < 0
              ? "the magnitude at low_hz changes too little past the foramen"
              : "low_ohm of the calibration does not fall beyond the standoff, or is missing";
    };
  }
}
