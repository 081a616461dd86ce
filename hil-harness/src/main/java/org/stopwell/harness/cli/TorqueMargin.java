package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.Locale;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.plan.Settings;

/** How far a stage's torque limit stays below the torque that breaks the file. */
final class TorqueMargin {
  private TorqueMargin() {}

  /**
   * Torque at which a solid round breaks in shear, 3 mm from the tip, N·cm: T = τ·π·d³/16. A fluted
   * file is weaker, so the margin is an upper bound. The place is that of the torque test of ISO
   * 3630-1, from memory.
   */
  static double strengthNcm(ParameterValues file) {
    double tipMm = file.get(FileParameters.SIZE) / 100.0;
    double taper = file.get(FileParameters.TAPER) / 10_000.0;
    double diameterMm = tipMm + 3 * taper;
    double newtonMillimetres =
        file.get(FileParameters.SHEAR_STRENGTH) * Math.PI * Math.pow(diameterMm, 3) / 16;
    return newtonMillimetres / 10;
  }

  static void print(Settings settings, PrintWriter out) {
    ParameterValues file = settings.controller().section("file");
    double strength = strengthNcm(file);
    for (Stage stage : Stage.values()) {
      if (settings.controller().has(stage)) {
        double limit = settings.controller().stage(stage).get(StageParameters.TORQUE) / 10_000.0;
        out.println(
            String.format(
                Locale.ROOT,
                "  %s: torque limit %.2f N cm is %.0f %% of the %.2f N cm at which a solid round of"
                    + " size %d, taper %s %%, breaks 3 mm from its tip%s",
                stage.name().toLowerCase(Locale.ROOT),
                limit,
                100 * limit / strength,
                strength,
                file.get(FileParameters.SIZE),
                FileParameters.TAPER.human(file.get(FileParameters.TAPER)),
                limit >= strength ? "  TOO MUCH" : ""));
      }
    }
  }
}
