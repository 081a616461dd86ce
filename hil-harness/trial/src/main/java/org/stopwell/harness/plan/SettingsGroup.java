package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;

/**
 * The conditions of a plan in which the controller has the same settings.
 *
 * @param conditions their names, by the levels' own names
 * @param stage stage of work
 * @param settings the settings of the controller
 * @param changes the differences from the settings file of the plan
 */
public record SettingsGroup(
    List<String> conditions, Stage stage, Settings settings, List<Change> changes) {
  /** Takes copies. */
  public SettingsGroup {
    conditions = List.copyOf(conditions);
    changes = List.copyOf(changes);
  }

  /**
   * One value that differs from the settings file.
   *
   * @param key such as {@code stages.length.speed_rpm}
   * @param plan as in the settings file or the head of the plan
   * @param group as in this group
   */
  public record Change(String key, String plan, String group) {
    /**
     * The change in plain words.
     *
     * @return such as {@code policies.stopping predict → plain}
     */
    public String words() {
      return key + " " + plan + " → " + group;
    }
  }

  /** Settings and stage together are what makes a group. */
  private record Told(long fingerprint, Stage stage) {}

  /**
   * The groups of a plan.
   *
   * @param plan the plan
   * @return in the order of its conditions; one alone where only the scene changes
   */
  public static List<SettingsGroup> of(Plan plan) {
    Map<Told, List<PlannedCondition>> same = new LinkedHashMap<>();
    for (PlannedCondition condition : plan.plannedConditions()) {
      same.computeIfAbsent(
              new Told(condition.settings().controller().fingerprint(), condition.stage()),
              told -> new ArrayList<>())
          .add(condition);
    }
    List<SettingsGroup> groups = new ArrayList<>();
    same.forEach(
        (told, conditions) -> {
          Settings settings = conditions.get(0).settings();
          groups.add(
              new SettingsGroup(
                  conditions.stream().map(PlannedCondition::name).toList(),
                  told.stage,
                  settings,
                  changes(plan, settings, told.stage)));
        });
    return groups;
  }

  /**
   * Where it holds, and what differs.
   *
   * @return one line
   */
  public String sentence() {
    return String.join(", ", conditions) + ": " + changeWords();
  }

  /**
   * What differs from the settings file.
   *
   * @return a few words
   */
  public String changeWords() {
    return changes.isEmpty()
        ? "as in the settings"
        : String.join("; ", changes.stream().map(Change::words).toList());
  }

  /**
   * A fingerprint of all settings of the controller, as a text.
   *
   * @return 16 hexadecimal digits
   */
  public String fingerprint() {
    return String.format(Locale.ROOT, "%016x", settings.controller().fingerprint());
  }

  private static List<Change> changes(Plan plan, Settings told, Stage stage) {
    List<Change> changes = new ArrayList<>();
    if (stage != plan.head().stage()) {
      changes.add(new Change("stage", Settings.word(plan.head().stage()), Settings.word(stage)));
    }
    Settings file =
        plan.settingsFiles().values().stream()
            .filter(s -> s.source().name().equals(told.source().name()))
            .findFirst()
            .orElse(plan.settings());
    if (!file.name().equals(plan.settings().name())) {
      changes.add(new Change("settings", plan.settings().name(), file.name()));
    }
    ControllerSettings base = file.controller();
    ControllerSettings group = told.controller();
    Map<String, String> before = values(base);
    Map<String, String> after = values(group);
    after.forEach(
        (key, value) -> {
          String was = before.getOrDefault(key, "(none)");
          if (!was.equals(value)) {
            changes.add(new Change(key, was, value));
          }
        });
    if (!file.weights().name().equals(told.weights().name())) {
      changes.add(new Change("sense.weights", file.weights().name(), told.weights().name()));
    }
    if (!base.calibration().equals(group.calibration())) {
      changes.add(
          new Change("calibration", points(base.calibration()), points(group.calibration())));
    }
    return changes;
  }

  private static String points(Calibration curve) {
    return curve.points().size() + " points";
  }

  private static Map<String, String> values(ControllerSettings settings) {
    Map<String, String> values = new LinkedHashMap<>();
    for (Map.Entry<String, ParameterTable> section : settings.written().entrySet()) {
      for (Parameter p : section.getValue().parameters()) {
        String unit = p.unit().isEmpty() ? "" : " " + p.unit();
        values.put(
            section.getKey() + "." + p.key(),
            p.human(settings.section(section.getKey()).get(p)) + unit);
      }
    }
    return values;
  }
}
