package org.stopwell.rig.adversary;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.weights.ShippedWeights;

/**
 * What the adversary attacks: a sensing policy in a stage.
 *
 * @param policy the sensing policy
 * @param stage the stage of work
 * @param settings the settings of the controller
 * @param policies the policies that the settings may name
 * @param canal what the signal comes from
 */
record Setup(
    Policy policy, Stage stage, ControllerSettings settings, Policies policies, Canal canal) {
  private static final Map<Policy, Canal> CANALS = new LinkedHashMap<>();

  private static final Map<Stage, Map<String, Object>> STAGES =
      Map.of(
          Stage.OPEN,
          Map.of("apical", "none", "on_doubtful", "none", "on_none", "none", "on_torque", "rock"),
          Stage.LENGTH,
          Map.of("apical", "hold"),
          Stage.SHAPE,
          Map.of("apical", "back-out", "on_doubtful", "ease", "on_torque", "back-out"),
          Stage.RECHECK,
          Map.of("apical", "hold", "speed_rpm", 200, "motion", "reciprocate"));

  /** A policy in a stage, as shipped. */
  static Setup of(Policy policy, Stage stage) {
    return of(policy, stage, Map.of(), Policies.BUILT_IN);
  }

  /**
   * A policy in a stage, spoiled.
   *
   * @param changes other values, keys such as {@code stage.rearm_mm} or {@code guard.torque_ms}
   * @param policies the policies that they may name
   */
  static Setup of(Policy policy, Stage stage, Map<String, Object> changes, Policies policies) {
    Canal canal = CANALS.computeIfAbsent(policy, p -> new Canal(p.hertz()));
    Map<String, Object> ofStage = new LinkedHashMap<>(STAGES.get(stage));
    if (policy == Policy.APPROACH) {
      ofStage.put("torque_ncm", 0.4); // the file is thinner: its size is one that was fitted
    }
    Map<String, Map<String, Object>> written = new LinkedHashMap<>();
    // policy approach knows no larger file
    written.put("file", Map.of("size", policy == Policy.APPROACH ? 20 : 25, "taper", "0.04"));
    written.put("sense", sense(policy));
    if (policy == Policy.LOCATOR) {
      written.put("guard", new LinkedHashMap<>(Map.of("signal_age_ms", 200)));
    }
    written.put("stage", ofStage);
    changes.forEach(
        (key, value) -> {
          String[] parts = key.split("\\.", 2);
          written.computeIfAbsent(parts[0], section -> new LinkedHashMap<>()).put(parts[1], value);
        });
    written.put(ControllerSettings.nameOf(stage), ofStage);
    written.remove("stage");
    try {
      return new Setup(
          policy,
          stage,
          ControllerSettings.of(
              written, curve(policy, canal), policies.tables(), ShippedWeights.get()),
          policies,
          canal);
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }

  private static Map<String, Object> sense(Policy policy) {
    Map<String, Object> sense = new LinkedHashMap<>();
    sense.put("policy", policy.name().toLowerCase(Locale.ROOT));
    if (policy == Policy.LOCATOR) {
      sense.put("locator_step_mm", 0.1);
      sense.put("locator_rate_hz", 10);
      sense.put("locator_feed_mm_s", 2);
    } else {
      sense.put("enter_kohm", 22);
      sense.put("unwetted_kohm", 28);
    }
    if (policy == Policy.APPROACH) {
      // Uncertain enough to go on in this canal: the bound that it states is judged, not its size.
      sense.put("refuse_bound_mm", 10);
    }
    if (policy == Policy.RATIO || policy == Policy.RESISTANCE) {
      sense.put("low_hz", 630);
    }
    if (policy == Policy.RATIO) {
      sense.put("high_hz", 6_300);
    }
    return sense;
  }

  private static Calibration curve(Policy policy, Canal canal) {
    return switch (policy) {
      case RATIO -> canal.curve(true);
      case RESISTANCE -> canal.curve(false);
      case LOCATOR, APPROACH -> Calibration.NONE;
    };
  }

  StopController controller() {
    return new StopController(settings, policies);
  }

  @Override
  public String toString() {
    return "policy " + policy + ", stage " + stage;
  }
}
