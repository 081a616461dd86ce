package org.stopwell.harness.casework;

import java.util.LinkedHashMap;
import java.util.Map;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.plan.Settings;

/**
 * One canal of a tooth. What the tooth states for all canals is already in it.
 *
 * @param name name of the canal, such as {@code MB}
 * @param reference the reference point on the crown
 * @param offsetMicrons from the reference point to the orifice along the file, µm
 * @param apex how the root ends
 * @param irrigant name of the fluid in the canal
 * @param settings the settings of the controller, with the stages of tooth and canal over them
 * @param stages what tooth and canal state over the settings file, sections such as {@code
 *     stages.shape}
 * @param simulated scene values that the bench plays: a model on the virtual and the emulated
 *     bench, a resistor network on a physical one
 */
public record CaseCanal(
    String name,
    CrownPoint reference,
    int offsetMicrons,
    ApexState apex,
    String irrigant,
    Settings settings,
    Map<String, Map<String, String>> stages,
    Map<String, Map<String, String>> simulated) {

  /** Copies the maps. */
  public CaseCanal {
    stages = copy(stages);
    simulated = copy(simulated);
  }

  /**
   * Whether the settings describe a stage.
   *
   * @param stage the stage
   * @return true when they do
   */
  public boolean has(Stage stage) {
    return settings.controller().has(stage);
  }

  /**
   * The set distance short of the foramen of a stage.
   *
   * @param stage a stage that the settings describe
   * @return µm
   */
  public int standoffMicrons(Stage stage) {
    return settings.controller().stage(stage).getInt(StageParameters.STANDOFF);
  }

  /**
   * The file of a stage.
   *
   * @param stage a stage that the settings describe
   * @return size, taper and alloy
   */
  public StepFile file(Stage stage) {
    return StepFile.of(settings.controller().file(stage));
  }

  /** A copy that keeps the order. */
  static Map<String, Map<String, String>> copy(Map<String, Map<String, String>> values) {
    Map<String, Map<String, String>> copy = new LinkedHashMap<>();
    values.forEach((section, keys) -> copy.put(section, new LinkedHashMap<>(keys)));
    return copy;
  }
}
