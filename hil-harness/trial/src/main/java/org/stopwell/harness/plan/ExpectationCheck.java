package org.stopwell.harness.plan;

import java.util.Locale;
import java.util.Map;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.rig.bench.HandSection;

/** Whether the settings and the scene of a condition permit the expectation of the plan. */
final class ExpectationCheck {
  private ExpectationCheck() {}

  /** Adds a mistake for each contradiction to the expectation, at its line. */
  static void of(PlannedCondition condition, int line, Mistakes mistakes) {
    if (!condition.settings().controller().has(condition.stage())) {
      return;
    }
    boolean past = condition.standoffMicrons() < 0;
    if (condition.expectation() == Expectation.STOP && past) {
      add(
          condition,
          line,
          standoff(condition) + " is past the foramen; write expect: patency",
          mistakes);
    } else if (condition.expectation() == Expectation.PATENCY && !past) {
      add(
          condition,
          line,
          standoff(condition) + " is not past the foramen; patency needs less than 0 mm",
          mistakes);
    } else if (condition.expectation() == Expectation.DEPTH_LIMIT
        && condition.depthLimitMicrons() == 0) {
      add(condition, line, "depth_limit_mm of the stage is 0, which is no limit", mistakes);
    } else if (condition.expectation() == Expectation.DEPTH_LIMIT && !hasAxis(condition)) {
      add(condition, line, "depth_limit needs hand.depth_axis: present", mistakes);
    }
  }

  private static String standoff(PlannedCondition condition) {
    return "standoff_mm " + StageParameters.STANDOFF.human(condition.standoffMicrons()) + " mm";
  }

  private static boolean hasAxis(PlannedCondition condition) {
    return HandSection.PRESENT.equals(
        condition.scene().getOrDefault("hand", Map.of()).get(HandSection.DEPTH_AXIS.key()));
  }

  private static void add(PlannedCondition condition, int line, String what, Mistakes mistakes) {
    mistakes.add(
        line,
        "expect",
        "condition "
            + condition.name()
            + ", stage "
            + condition.stage().name().toLowerCase(Locale.ROOT)
            + ": "
            + what);
  }
}
