package org.stopwell.core.settings;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.stopwell.core.frame.Stage;

/**
 * Everything the controller is told before it may run: checked once, then immutable.
 *
 * <p>Settings stand in named sections: {@code file}, {@code sense}, {@code guard}, and one per
 * stage of work, {@code stages.length} and so on. A stage that was not written may not be used.
 */
public final class ControllerSettings {
  private final Map<String, ParameterValues> sections;
  private final Calibration calibration;
  private final long fingerprint;

  private ControllerSettings(Map<String, ParameterValues> sections, Calibration calibration) {
    this.sections = sections;
    this.calibration = calibration;
    this.fingerprint = Fingerprint.of(sections, calibration);
  }

  /**
   * The tables of all sections by name.
   *
   * @return {@code file}, {@code sense}, {@code guard}, {@code stages.open} ...
   */
  public static Map<String, ParameterTable> tables() {
    return tables(Map.of());
  }

  /**
   * The tables of all sections by name, with policies that are not built in.
   *
   * @param policies tables of {@code policies} and {@code policy.NAME}
   * @return as {@link #tables()}, with these
   */
  public static Map<String, ParameterTable> tables(Map<String, ParameterTable> policies) {
    Map<String, ParameterTable> tables = new LinkedHashMap<>();
    tables.put("file", FileParameters.TABLE);
    tables.put("sense", SenseParameters.TABLE);
    tables.put("guard", GuardParameters.TABLE);
    for (Stage stage : Stage.values()) {
      tables.put(nameOf(stage), StageParameters.TABLE);
    }
    tables.put(PolicyParameters.SECTION, PolicyParameters.TABLE);
    tables.putAll(policies);
    return tables;
  }

  /**
   * The name of the section that holds a stage.
   *
   * @param stage a stage
   * @return such as {@code stages.length}
   */
  public static String nameOf(Stage stage) {
    return "stages." + stage.name().toLowerCase(Locale.ROOT);
  }

  /**
   * Checks and closes a set of settings.
   *
   * @param written what a person wrote: values by key, by section; {@code file}, {@code sense} and
   *     at least one stage must be there, a stage that is absent may not be used
   * @param calibration the curve from signal to distance
   * @return the settings
   * @throws SettingsException with every mistake, keys as {@code section.key}
   */
  public static ControllerSettings of(
      Map<String, ? extends Map<String, ?>> written, Calibration calibration)
      throws SettingsException {
    return of(written, calibration, Map.of());
  }

  /**
   * Checks and closes a set of settings that may name policies that are not built in.
   *
   * @param written what a person wrote: values by key, by section
   * @param calibration the curve from signal to distance
   * @param policies tables of {@code policies} and {@code policy.NAME}
   * @return the settings
   * @throws SettingsException with every mistake, keys as {@code section.key}
   */
  public static ControllerSettings of(
      Map<String, ? extends Map<String, ?>> written,
      Calibration calibration,
      Map<String, ParameterTable> policies)
      throws SettingsException {
    List<Fault> faults = new ArrayList<>();
    Map<String, ParameterTable> tables = tables(policies);
    for (String name : written.keySet()) {
      if (!tables.containsKey(name)) {
        faults.add(new Fault(name, name + ": unknown section"));
      }
    }
    Map<String, ParameterValues> sections = new LinkedHashMap<>();
    tables.forEach(
        (name, table) -> {
          Map<String, ?> values = written.get(name);
          if (values != null || isOptional(name)) {
            List<Fault> here = new ArrayList<>();
            sections.put(name, table.resolve(values == null ? Map.of() : values, here));
            here.forEach(f -> faults.add(new Fault(name + "." + f.key(), f.message())));
          }
        });
    SettingsChecks.addFaults(sections, calibration, faults);
    if (!faults.isEmpty()) {
      throw new SettingsException(faults);
    }
    return new ControllerSettings(sections, calibration);
  }

  /** Sections that hold their defaults when they are not written. */
  private static boolean isOptional(String name) {
    return name.equals("guard") || name.startsWith("polic");
  }

  /**
   * Whether a sample is read as {@code sense.policy} says.
   *
   * @return false with a sensing policy that is not built in
   */
  public boolean hasBuiltInSensing() {
    return SettingsChecks.hasBuiltInSensing(section(PolicyParameters.SECTION));
  }

  /**
   * The curve from signal to distance.
   *
   * @return the curve, {@link Calibration#NONE} with an outside locator
   */
  public Calibration calibration() {
    return calibration;
  }

  /**
   * Whether a stage may be used.
   *
   * @param stage a stage
   * @return true when its section was written
   */
  public boolean has(Stage stage) {
    return sections.containsKey(nameOf(stage));
  }

  /**
   * The values of a stage.
   *
   * @param stage a stage that {@link #has(Stage)}
   * @return its values
   */
  public ParameterValues stage(Stage stage) {
    return section(nameOf(stage));
  }

  /**
   * The sections that hold values.
   *
   * @return tables by name, in the order of {@link #tables()}
   */
  public Map<String, ParameterTable> written() {
    Map<String, ParameterTable> tables = new LinkedHashMap<>();
    sections.forEach((name, values) -> tables.put(name, values.table()));
    return tables;
  }

  /**
   * The values of one section.
   *
   * @param name a name of {@link #tables()}
   * @return its values
   */
  public ParameterValues section(String name) {
    ParameterValues values = sections.get(name);
    if (values == null) {
      throw new IllegalArgumentException("no section " + name);
    }
    return values;
  }

  /**
   * A number that stands for all values and the curve: equal settings have equal fingerprints on
   * any machine, however they were written.
   *
   * @return 64 bits
   */
  public long fingerprint() {
    return fingerprint;
  }
}
