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
  static void of(Cell cell, int line, Mistakes mistakes) {
    if (!cell.settings().controller().has(cell.stage())) {
      return;
    }
    boolean past = cell.standoffMicrons() < 0;
    if (cell.expectation() == Expectation.STOP && past) {
      add(cell, line, standoff(cell) + " is past the foramen; write expect: patency", mistakes);
    } else if (cell.expectation() == Expectation.PATENCY && !past) {
      add(
          cell,
          line,
          standoff(cell) + " is not past the foramen; patency needs less than 0 mm",
          mistakes);
    } else if (cell.expectation() == Expectation.DEPTH_LIMIT && cell.depthLimitMicrons() == 0) {
      add(cell, line, "depth_limit_mm of the stage is 0, which is no limit", mistakes);
    } else if (cell.expectation() == Expectation.DEPTH_LIMIT && !hasAxis(cell)) {
      add(cell, line, "depth_limit needs hand.depth_axis: present", mistakes);
    }
  }

  private static String standoff(Cell cell) {
    return "standoff_mm " + StageParameters.STANDOFF.human(cell.standoffMicrons()) + " mm";
  }

  private static boolean hasAxis(Cell cell) {
    return HandSection.PRESENT.equals(
        cell.scene().getOrDefault("hand", Map.of()).get(HandSection.DEPTH_AXIS.key()));
  }

  private static void add(Cell cell, int line, String what, Mistakes mistakes) {
    mistakes.add(
        line,
        "expect",
        "condition "
            + cell.name()
            + ", stage "
            + cell.stage().name().toLowerCase(Locale.ROOT)
            + ": "
            + what);
  }
}
