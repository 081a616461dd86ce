package org.stopwell.harness.advice;

import java.util.Locale;
import java.util.function.Consumer;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.core.settings.FileStrength;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.plan.Settings;

/** Prints the margin between the torque limit of each stage and the strength of its file. */
final class TorqueMargin {
  private TorqueMargin() {}

  static void print(Settings settings, Consumer<String> out) {
    for (Stage stage : Stage.values()) {
      if (settings.controller().has(stage)) {
        ParameterValues file = settings.controller().file(stage);
        FileStrength strength = new FileStrength(file);
        int limit = settings.controller().stage(stage).getInt(StageParameters.TORQUE);
        out.accept(
            String.format(
                Locale.ROOT,
                "  %s: torque limit %.2f N·cm, %.0f %% below the strength of the file, %.2f N·cm (%s,"
                    + " size %d, taper %s)%s",
                stage.name().toLowerCase(Locale.ROOT),
                limit / 10_000.0,
                strength.marginPercent(limit),
                strength.torqueMicroNewtonMetres() / 10_000.0,
                file.choice(FileParameters.ALLOY),
                file.get(FileParameters.SIZE),
                file.get(FileParameters.TAPER) / 10_000.0,
                strain(strength)));
      }
    }
  }

  private static String strain(FileStrength strength) {
    return strength.bendingStrain() > 0
        ? String.format(
            Locale.ROOT,
            "; its surface is strained by %.1f %% in the curve",
            100 * strength.bendingStrain())
        : "";
  }
}
