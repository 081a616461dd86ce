package org.stopwell.rig.bench;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;

/**
 * What one trial is made of: canal, fluid, file, hand and front end, each a section of checked
 * values, and the seed of everything random in it.
 */
public final class Scene {
  private final Map<String, ParameterValues> sections;
  private final long seed;

  private Scene(Map<String, ParameterValues> sections, long seed) {
    this.sections = sections;
    this.seed = seed;
  }

  /**
   * The tables of all sections by name.
   *
   * @return {@code canal}, {@code fluid}, {@code file}, {@code hand}, {@code front_end}
   */
  public static Map<String, ParameterTable> tables() {
    Map<String, ParameterTable> tables = new LinkedHashMap<>();
    for (String name : List.of("canal", "fluid", "file", "hand", "front_end")) {
      tables.put(name, new ParameterTable(List.of()));
    }
    return tables;
  }

  /**
   * Checks and closes a scene.
   *
   * @param written what a person wrote: values by key, by section
   * @param seed seed of everything random in the trial
   * @return the scene
   * @throws SettingsException with every mistake, keys as {@code section.key}
   */
  public static Scene of(Map<String, ? extends Map<String, ?>> written, long seed)
      throws SettingsException {
    List<Fault> faults = new ArrayList<>();
    Map<String, ParameterValues> sections = new LinkedHashMap<>();
    tables()
        .forEach(
            (name, table) -> {
              Map<String, ?> values = written.get(name);
              List<Fault> here = new ArrayList<>();
              sections.put(name, table.resolve(values == null ? Map.of() : values, here));
              here.forEach(f -> faults.add(new Fault(name + "." + f.key(), f.message())));
            });
    if (!faults.isEmpty()) {
      throw new SettingsException(faults);
    }
    return new Scene(sections, seed);
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
   * The seed of everything random in the trial.
   *
   * @return 64 bits
   */
  public long seed() {
    return seed;
  }
}
