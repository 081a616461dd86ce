package org.stopwell.core.settings;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.frame.Stage;

/**
 * Everything the controller is told before it may run: checked once, then immutable.
 *
 * <p>Settings stand in named sections: {@code file}, {@code sense}, {@code guard}, and one per
 * stage of work, {@code stages.length} and so on.
 */
public final class ControllerSettings {
  /** The instrument in use. */
  public static final ParameterTable FILE = new ParameterTable(List.of());

  /** How the position signal is read. */
  public static final ParameterTable SENSE = new ParameterTable(List.of());

  /** Budgets of the guards that hold in every stage. */
  public static final ParameterTable GUARD = new ParameterTable(List.of());

  /** What one stage of work does. */
  public static final ParameterTable STAGE = new ParameterTable(List.of());

  private final Map<String, ParameterValues> sections;
  private final Calibration calibration;

  private ControllerSettings(Map<String, ParameterValues> sections, Calibration calibration) {
    this.sections = sections;
    this.calibration = calibration;
  }

  /**
   * The tables of all sections by name.
   *
   * @return {@code file}, {@code sense}, {@code guard}, {@code stages.open} ...
   */
  public static Map<String, ParameterTable> tables() {
    Map<String, ParameterTable> tables = new LinkedHashMap<>();
    tables.put("file", FILE);
    tables.put("sense", SENSE);
    tables.put("guard", GUARD);
    for (Stage stage : Stage.values()) {
      tables.put("stages." + stage.name().toLowerCase(java.util.Locale.ROOT), STAGE);
    }
    return tables;
  }

  /**
   * Checks and closes a set of settings.
   *
   * @param written what a person wrote: values by key, by section; a stage that is absent may not
   *     be used
   * @param calibration the curve from signal to distance
   * @return the settings
   * @throws SettingsException with every mistake, keys as {@code section.key}
   */
  public static ControllerSettings of(
      Map<String, ? extends Map<String, ?>> written, Calibration calibration)
      throws SettingsException {
    List<Fault> faults = new ArrayList<>();
    Map<String, ParameterValues> sections = new LinkedHashMap<>();
    tables()
        .forEach(
            (name, table) -> {
              Map<String, ?> values = written.get(name);
              if (values != null) {
                List<Fault> here = new ArrayList<>();
                sections.put(name, table.resolve(values, here));
                here.forEach(f -> faults.add(new Fault(name + "." + f.key(), f.message())));
              }
            });
    if (!faults.isEmpty()) {
      throw new SettingsException(faults);
    }
    return new ControllerSettings(sections, calibration);
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
   * The values of one section.
   *
   * @param name a name of {@link #tables()}
   * @return its values, all defaults when it was not written
   */
  public ParameterValues section(String name) {
    ParameterValues values = sections.get(name);
    if (values == null) {
      throw new IllegalArgumentException("no section " + name);
    }
    return values;
  }
}
