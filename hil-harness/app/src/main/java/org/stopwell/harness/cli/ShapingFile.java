package org.stopwell.harness.cli;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.core.settings.FileStrength;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.casework.CaseCanal;

/**
 * A file of a sequence of shaping.
 *
 * @param size tip diameter, 1/100 mm, as written
 * @param taper growth of the diameter, mm per mm, as written
 */
record ShapingFile(String size, String taper) {
  private static final Pattern WRITTEN = Pattern.compile("([0-9]{1,3})/(0\\.[0-9]{1,4})");

  /** Share of the strength of a file that its torque limit takes; as in the shipped settings. */
  private static final double TORQUE_SHARE = 0.9;

  /** 0.01 N·cm, the step of a torque limit, µN·m. */
  private static final int TORQUE_STEP = 100;

  static ShapingFile of(String written) throws UsageException {
    Matcher parts = WRITTEN.matcher(written.strip());
    if (!parts.matches()) {
      throw new UsageException(
          "--file " + written + " is not a file; write size and taper, such as 25/0.06");
    }
    return new ShapingFile(parts.group(1), parts.group(2));
  }

  /** The canal as it is shaped with this file. */
  CaseCanal in(CaseCanal canal) throws UsageException {
    if (!canal.has(Stage.SHAPE)) {
      return canal; // the step says so
    }
    ControllerSettings all = canal.settings().controller();
    ParameterValues of = all.file(Stage.SHAPE);
    Map<String, String> file = new LinkedHashMap<>();
    file.put(FileParameters.SIZE.key(), size);
    file.put(FileParameters.TAPER.key(), taper);
    file.put(FileParameters.ALLOY.key(), of.choice(FileParameters.ALLOY));
    file.put(
        FileParameters.SHEAR_STRENGTH.key(),
        FileParameters.SHEAR_STRENGTH.human(of.get(FileParameters.SHEAR_STRENGTH)));
    int strength;
    try {
      strength = new FileStrength(FileParameters.TABLE.resolve(file)).torqueMicroNewtonMetres();
    } catch (SettingsException e) {
      throw new UsageException("--file " + size + "/" + taper + ": " + e.getMessage());
    }
    int most = (int) (strength * TORQUE_SHARE) / TORQUE_STEP * TORQUE_STEP;
    int torque = Math.min(all.stage(Stage.SHAPE).getInt(StageParameters.TORQUE), most);
    Map<String, Map<String, String>> stages = new LinkedHashMap<>(canal.stages());
    Map<String, String> shape =
        new LinkedHashMap<>(stages.getOrDefault(ControllerSettings.nameOf(Stage.SHAPE), Map.of()));
    shape.put(StageParameters.TORQUE.key(), StageParameters.TORQUE.human(torque));
    stages.put(ControllerSettings.nameOf(Stage.SHAPE), shape);
    stages.put(ControllerSettings.fileOf(Stage.SHAPE), file);
    return new CaseCanal(
        canal.name(),
        canal.reference(),
        canal.offsetMicrons(),
        canal.apex(),
        canal.irrigant(),
        canal.settings(),
        stages,
        canal.simulated());
  }
}
