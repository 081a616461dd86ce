package org.stopwell.harness.plan;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.rig.population.Population.Fill;

/**
 * One condition of a plan: one level of every factor.
 *
 * @param name the levels, such as {@code half-wet/slow}
 * @param levels level by factor
 * @param stage stage of work
 * @param settings the settings of the controller
 * @param expectation what the plan expects of the controller here
 * @param scene what was written for the scene, by section and key
 * @param fill fluid of a drawn canal; empty where the scene is not drawn
 * @param faults what goes wrong on purpose
 * @param device the device under test; empty where the controller of the settings decides
 * @param mount how the tooth is mounted; empty where the plan does not say
 */
public record PlannedCondition(
    String name,
    Map<String, String> levels,
    Stage stage,
    Settings settings,
    Expectation expectation,
    Map<String, Map<String, String>> scene,
    Optional<Fill> fill,
    List<PlannedFault> faults,
    Optional<Device> device,
    Optional<Mount> mount) {

  /** Copies the maps and the list. */
  public PlannedCondition {
    levels = Map.copyOf(levels);
    scene = copy(scene);
    faults = List.copyOf(faults);
  }

  /**
   * Where the file must stop.
   *
   * @return target distance short of the foramen, µm
   */
  public int standoffMicrons() {
    return device
        .map(Device::standoffMicrons)
        .orElseGet(() -> settings.controller().stage(stage).getInt(StageParameters.STANDOFF));
  }

  /**
   * Where the axis must hold the file.
   *
   * @return depth below the reference point, µm; 0 is no limit
   */
  public int depthLimitMicrons() {
    return settings.controller().stage(stage).getInt(StageParameters.DEPTH_LIMIT);
  }

  /**
   * The torque limit of the stage.
   *
   * @return torque at the file, µN·m
   */
  public int torqueLimitMicroNewtonMetres() {
    return settings.controller().stage(stage).getInt(StageParameters.TORQUE);
  }

  /** The scene's values with some put over them. */
  Map<String, Map<String, String>> with(Map<String, Map<String, String>> over) {
    Map<String, Map<String, String>> merged = copy(scene);
    over.forEach(
        (section, keys) ->
            merged.computeIfAbsent(section, s -> new LinkedHashMap<>()).putAll(keys));
    return merged;
  }

  private static Map<String, Map<String, String>> copy(Map<String, Map<String, String>> scene) {
    Map<String, Map<String, String>> copy = new LinkedHashMap<>();
    scene.forEach((section, keys) -> copy.put(section, new LinkedHashMap<>(keys)));
    return copy;
  }
}
