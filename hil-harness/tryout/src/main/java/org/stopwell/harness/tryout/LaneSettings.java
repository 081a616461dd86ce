package org.stopwell.harness.tryout;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.core.settings.FileStrength;
import org.stopwell.core.settings.PolicyTables;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.core.weights.DepthWeights;

/**
 * The settings of a lane: those that ship as {@code length.yaml} and {@code ratio.yaml}, with what
 * the text of the scene changes. A test compares fingerprints.
 */
final class LaneSettings {
  /** The two-frequency reading. */
  static final String RATIO = "ratio";

  /** The estimate from the whole approach. */
  static final String APPROACH = "approach";

  /** Share of the strength of the file that its torque limit takes, as in the shipped settings. */
  private static final double TORQUE_SHARE = 0.9;

  /** 0.01 N·cm, the step of a torque limit, µN·m. */
  private static final long TORQUE_STEP = 100;

  private final Calibration curve;
  private final DepthWeights weights;

  /**
   * What lanes are made of.
   *
   * @param ratio text of the shipped settings of the two-frequency reading, for its curve
   * @param weights the shipped weights
   */
  LaneSettings(String ratio, DepthWeights weights) {
    curve = curve(ratio);
    this.weights = weights;
  }

  /** The rows of the curve: {@code - {ratio: 0.5, low_ohm: 4515, remaining_mm: -1, …}}. */
  private static Calibration curve(String settings) {
    List<Calibration.Point> points = new ArrayList<>();
    for (String line : settings.split("\n", -1)) {
      String row = line.strip();
      if (row.startsWith("- {ratio:")) {
        Map<String, String> values = new LinkedHashMap<>();
        for (String pair : row.substring(row.indexOf('{') + 1, row.indexOf('}')).split(",", -1)) {
          int colon = pair.indexOf(':');
          values.put(pair.substring(0, colon).strip(), pair.substring(colon + 1).strip());
        }
        points.add(
            new Calibration.Point(
                Decimal.of(values.getOrDefault("ratio", ""), 6),
                (int) Decimal.of(values.getOrDefault("remaining_mm", ""), 3),
                Decimal.of(values.getOrDefault("low_ohm", ""), 3),
                (int) Decimal.of(values.getOrDefault("bound_mm", ""), 3)));
      }
    }
    return new Calibration(points);
  }

  /**
   * The settings of one lane.
   *
   * @param reading {@link #RATIO} or {@link #APPROACH}
   * @param size size of the file as written
   * @param taper taper of the file as written
   * @param stage the stage of work
   * @param written what the text says about the stage, by key
   * @return the settings
   * @throws SettingsException with every mistake
   */
  ControllerSettings of(
      String reading, String size, String taper, Stage stage, Map<String, String> written)
      throws SettingsException {
    Map<String, Map<String, String>> sections = new LinkedHashMap<>();
    Map<String, String> file = Map.of("size", size, "taper", taper, "alloy", "nickel-titanium");
    sections.put("file", file);
    sections.put(
        "sense",
        reading.equals(RATIO)
            ? Map.of("policy", RATIO, "low_hz", "630", "high_hz", "6300")
            : Map.of("policy", APPROACH));
    Map<String, String> keys = new LinkedHashMap<>();
    keys.put("speed_rpm", "300");
    keys.put("torque_ncm", torque(file));
    keys.put("standoff_mm", "0.5");
    keys.put("apical", apical(stage));
    keys.put("on_doubtful", StageParameters.EASE_WORD);
    keys.put("on_none", StageParameters.HOLD);
    keys.putAll(written);
    sections.put(ControllerSettings.nameOf(stage), keys);
    return ControllerSettings.of(
        sections, reading.equals(RATIO) ? curve : Calibration.NONE, PolicyTables.BUILT_IN, weights);
  }

  /** Shaping turns back at the standoff, opening does not know it; the shipped stage holds. */
  private static String apical(Stage stage) {
    return switch (stage) {
      case OPEN -> StageParameters.NONE;
      case LENGTH, RECHECK -> StageParameters.HOLD;
      case SHAPE -> StageParameters.BACK_OUT;
    };
  }

  private static String torque(Map<String, String> file) {
    int strength =
        new FileStrength(FileParameters.TABLE.resolve(file, new ArrayList<>()))
            .torqueMicroNewtonMetres();
    long limit = (long) (strength * TORQUE_SHARE) / TORQUE_STEP * TORQUE_STEP;
    return StageParameters.TORQUE.human(Math.max(limit, StageParameters.TORQUE.min()));
  }
}
