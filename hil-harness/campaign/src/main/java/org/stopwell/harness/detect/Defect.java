package org.stopwell.harness.detect;

import java.util.LinkedHashMap;
import java.util.Map;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.policy.Stopping;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.PolicyParameters;
import org.stopwell.core.settings.PolicyTables;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.rig.bench.Bench;

/**
 * One defect of one size. It is placed outside the core: in the policy that decides the stop, in
 * the settings, or in the incoming signal. The guards and the stop monitor of the core stay active
 * and can catch it.
 *
 * @param kind what is wrong
 * @param size by how much
 */
public record Defect(DefectKind kind, int size) {
  private static final String NAME = "defective";

  /**
   * The stopping policy, with the defect if it belongs there.
   *
   * @param sound the settings as they should be
   * @param policies the policies that they may name
   * @return policies, one more than those where the defect is one of deciding
   */
  public Policies policies(ControllerSettings sound, Policies policies) {
    Stopping stopping = policies.stopping(sound);
    Stopping wrong = wrong(stopping);
    return wrong == stopping
        ? policies
        : policies.withStopping(NAME, new ParameterTable(java.util.List.of()), (all, own) -> wrong);
  }

  private Stopping wrong(Stopping sound) {
    return switch (kind) {
      case DISTANCE_SIGN -> (remaining, v, coast) -> -sound.atRest(remaining, v, coast);
      case LEAD_SIGN -> (remaining, v, coast) -> 2 * remaining - sound.atRest(remaining, v, coast);
      case UNIT -> (remaining, v, coast) -> sound.atRest(remaining, v, coast) / size;
      case EARLY ->
          (remaining, v, coast) -> sound.atRest(remaining, v, coast) - Math.max(0, v) * size / 1e3;
      case LATE, STANDOFF_MORE, STANDOFF_LESS, NO_DEBOUNCE, STALE_HOLD -> sound;
    };
  }

  /**
   * The settings, with the defect if it belongs there.
   *
   * @param sound the settings as they should be
   * @param policies the policies that they may name
   * @param stage the stage under test
   * @return the settings of the defective controller
   */
  public ControllerSettings settings(ControllerSettings sound, Policies policies, Stage stage) {
    Map<String, Map<String, String>> texts = texts(sound);
    switch (kind) {
      case STANDOFF_MORE -> standoff(texts, sound, stage, 100 + size);
      case STANDOFF_LESS -> standoff(texts, sound, stage, 100 - size);
      case NO_DEBOUNCE -> {
        put(texts, "sense", SenseParameters.ENTER_SAMPLES, "1");
        put(texts, "sense", SenseParameters.ENTER_DWELL, "0");
        put(texts, "sense", SenseParameters.LEAVE_DWELL, "0");
        put(texts, "guard", GuardParameters.TRUST_RISE, "0");
      }
      case DISTANCE_SIGN, LEAD_SIGN, UNIT, EARLY ->
          texts
              .computeIfAbsent(PolicyParameters.SECTION, s -> new LinkedHashMap<>())
              .put(PolicyParameters.STOPPING, NAME);
      case LATE, STALE_HOLD -> {}
    }
    try {
      return ControllerSettings.of(
          read(texts, policies),
          sound.calibration(),
          policies(sound, policies).tables(),
          sound.weights().orElse(null));
    } catch (SettingsException e) {
      throw new IllegalStateException(
          "a defect must not make the settings invalid: " + e.getMessage(), e);
    }
  }

  /**
   * The bench, with the defect if it belongs to the signal.
   *
   * @param bench a bench
   * @return the bench as the defective controller sees it
   */
  public Bench bench(Bench bench) {
    return switch (kind) {
      case LATE -> new SpoiledSignal(bench, size * 1_000_000L, 0);
      case STALE_HOLD -> new SpoiledSignal(bench, 0, size * 1_000_000L);
      case DISTANCE_SIGN, LEAD_SIGN, UNIT, EARLY, STANDOFF_MORE, STANDOFF_LESS, NO_DEBOUNCE ->
          bench;
    };
  }

  private static void standoff(
      Map<String, Map<String, String>> texts, ControllerSettings sound, Stage stage, int percent) {
    Parameter p = StageParameters.STANDOFF;
    long wrong = Math.round(sound.stage(stage).get(p) * percent / 100.0);
    put(
        texts,
        ControllerSettings.nameOf(stage),
        p,
        p.human(Math.max(p.min(), Math.min(p.max(), wrong))));
  }

  private static void put(
      Map<String, Map<String, String>> texts, String section, Parameter p, String value) {
    texts.computeIfAbsent(section, s -> new LinkedHashMap<>()).put(p.key(), value);
  }

  /** Without the parameters of a policy whose place the defect takes. */
  private static Map<String, Map<String, String>> read(
      Map<String, Map<String, String>> texts, Policies policies) {
    policies.tables().own().keySet().stream()
        .filter(name -> !chosen(texts, name))
        .forEach(name -> texts.remove(PolicyTables.OWN + name));
    return texts;
  }

  private static boolean chosen(Map<String, Map<String, String>> texts, String policy) {
    return texts.getOrDefault(PolicyParameters.SECTION, Map.of()).containsValue(policy)
        || texts.getOrDefault("sense", Map.of()).containsValue(policy);
  }

  /** The settings as a person would write every one of them that the policies read. */
  private static Map<String, Map<String, String>> texts(ControllerSettings settings) {
    Map<String, Map<String, String>> texts = new LinkedHashMap<>();
    settings
        .written()
        .forEach(
            (name, table) -> {
              Map<String, String> section = new LinkedHashMap<>();
              table.parameters().stream()
                  .filter(p -> !name.equals("sense") || settings.sensing().reads(p.key()))
                  .forEach(p -> section.put(p.key(), p.human(settings.section(name).get(p))));
              texts.put(name, section);
            });
    return texts;
  }
}
