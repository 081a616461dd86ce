package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.Arrays;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.plan.Settings;

/** States whether a second quantity watches the stop, and where none does. */
final class MonitorAdvice {
  private MonitorAdvice() {}

  static void print(Settings settings, PrintWriter out) {
    ControllerSettings all = settings.controller();
    boolean stops =
        Arrays.stream(Stage.values())
            .filter(all::has)
            .anyMatch(s -> !all.stage(s).choice(StageParameters.APICAL).equals("none"));
    if (stops) {
      out.println("  no independent monitor: " + why(all));
    }
  }

  private static String why(ControllerSettings settings) {
    if (!settings.hasBuiltInSensing()) {
      return "it cannot read the signal of this sensing policy";
    }
    String margin =
        GuardParameters.MONITOR_MARGIN.human(
            settings.section("guard").get(GuardParameters.MONITOR_MARGIN));
    String watched = ", which is also watched unfiltered, " + margin + " mm beyond the standoff";
    return switch (settings.section("sense").choice(SenseParameters.POLICY)) {
      case SenseParameters.LOCATOR -> "the only signal is the locator's distance" + watched;
      case SenseParameters.RESISTANCE -> "the only signal is the magnitude at low_hz" + watched;
      case SenseParameters.APPROACH -> "the estimate uses every frequency that is measured";
      default -> "the stop depends on the ratio of two frequencies" + watched;
    };
  }
}
