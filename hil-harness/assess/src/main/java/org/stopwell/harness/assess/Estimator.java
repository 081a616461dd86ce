package org.stopwell.harness.assess;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.PolicyTables;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.FileSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.calibration.ReferenceSweep;
import org.stopwell.rig.weights.ShippedWeights;

/** The two estimators as settings; only the sensing differs. */
public enum Estimator {
  /** The ratio of two frequencies, by a curve measured in one canal of average size. */
  RATIO,
  /** The estimate from four frequencies over the whole approach. */
  APPROACH;

  /** The word for it on the command line. */
  @Override
  public String toString() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** Whether it can be tried in a condition: the ratio learns nothing about a canal. */
  boolean tries(CanalCondition condition) {
    return this == APPROACH || !condition.learned();
  }

  /** Settings for the file of a scene. */
  ControllerSettings settings(Scene scene, Map<String, String> sense) throws SettingsException {
    Map<String, String> stage =
        Map.of(
            "apical", "hold",
            "standoff_mm", "0.5",
            "torque_ncm", torque(scene),
            "on_doubtful", "ease",
            "on_none", "hold");
    Map<String, String> file =
        Map.of(
            "size", Long.toString(scene.section("file").get(FileSection.SIZE)),
            "taper", FileSection.TAPER.human(scene.section("file").get(FileSection.TAPER)),
            "alloy", "nickel-titanium");
    Map<String, String> how = new HashMap<>(sense);
    Calibration curve = Calibration.NONE;
    if (this == RATIO) {
      how.keySet().removeIf(key -> !key.endsWith("_hz"));
      how.put("policy", "ratio");
      how.put("low_hz", Integer.toString(Training.HERTZ[0]));
      how.put("high_hz", Integer.toString(Training.HERTZ[2]));
      curve = middleCanal();
    } else {
      how.put("policy", "approach");
    }
    return ControllerSettings.of(
        Map.of("file", file, "sense", how, "stages.length", stage, "stages.shape", stage),
        curve,
        PolicyTables.BUILT_IN,
        ShippedWeights.get());
  }

  /**
   * Nine tenths of the torque that breaks a solid round file 3 mm from its tip, at most 0.6 N·cm.
   */
  private static String torque(Scene scene) {
    double millimetres =
        TrainingApproach.size(scene) * 0.01 + 0.03 * TrainingApproach.taperPercent(scene);
    double newtonCentimetres = 0.1 * 700 * Math.PI * millimetres * millimetres * millimetres / 16;
    return BigDecimal.valueOf(Math.min(0.6, 0.9 * newtonCentimetres))
        .setScale(4, RoundingMode.DOWN)
        .toPlainString();
  }

  private static Calibration middleCanal() throws SettingsException {
    Scene middle =
        Scene.of(
            Map.of(
                "front_end",
                Map.of(
                    "frequency_1_hz", Integer.toString(Training.HERTZ[0]),
                    "frequency_2_hz", Integer.toString(Training.HERTZ[2])),
                "canal",
                Map.of(
                    "length_mm",
                    "12.24",
                    "constriction_mm",
                    "0.709",
                    "constriction_diameter_mm",
                    "0.275",
                    "foramen_diameter_mm",
                    "0.55"),
                "fluid",
                Map.of("level_mm", "6", "conductivity_s_per_m", "2.7"),
                "file",
                Map.of("size", "15", "taper", "0.03")),
            1);
    return new ReferenceSweep(middle, ReferenceSweep.Feature.RATIO).curve(-500, 6000, 100);
  }
}
