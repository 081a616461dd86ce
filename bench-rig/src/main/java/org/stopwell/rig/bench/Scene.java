package org.stopwell.rig.bench;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.random.Tapes;

/**
 * What one trial is made of: canal, fluid, file, hand, motor, front end and tooth, each a section
 * of checked values, and the seed of everything random in it.
 */
public final class Scene {
  private final Map<String, ParameterValues> sections;
  private final long seed;
  private final Tapes tapes;

  private Scene(Map<String, ParameterValues> sections, long seed, Tapes tapes) {
    this.sections = sections;
    this.seed = seed;
    this.tapes = tapes;
  }

  /**
   * The tables of the sections that people write, by name.
   *
   * @return {@code canal}, {@code fluid}, {@code file}, {@code hand}, {@code motor}, {@code
   *     front_end}
   */
  public static Map<String, ParameterTable> tables() {
    Map<String, ParameterTable> tables = new LinkedHashMap<>();
    tables.put("canal", CanalSection.TABLE);
    tables.put("fluid", FluidSection.TABLE);
    tables.put("file", FileSection.TABLE);
    tables.put("hand", HandSection.TABLE);
    tables.put("motor", MotorSection.TABLE);
    tables.put("front_end", FrontEndSection.TABLE);
    return tables;
  }

  /**
   * The tables of all sections by name.
   *
   * @return {@link #tables()} and {@code tooth}, which a plan on extracted teeth sets
   */
  public static Map<String, ParameterTable> allTables() {
    Map<String, ParameterTable> tables = tables();
    tables.put("tooth", ToothSection.TABLE);
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
    allTables()
        .forEach(
            (name, table) -> {
              Map<String, ?> values = written.containsKey(name) ? written.get(name) : Map.of();
              List<Fault> here = new ArrayList<>();
              boolean canal = name.equals("canal");
              sections.put(
                  name, table.resolve(canal ? CanalSection.completed(values) : values, here));
              here.forEach(f -> faults.add(new Fault(name + "." + f.key(), f.message())));
            });
    faults.addAll(contradictions(sections));
    if (!faults.isEmpty()) {
      throw new SettingsException(faults);
    }
    return new Scene(sections, seed, Tapes.NONE);
  }

  /**
   * The same scene with another seed.
   *
   * @param other seed of everything random in the trial
   * @return the changed scene
   */
  public Scene seeded(long other) {
    return seeded(other, Tapes.NONE);
  }

  /**
   * The same scene with another seed and tapes in place of some of its streams.
   *
   * @param other seed of everything random in the trial
   * @param others tapes in place of streams of this seed
   * @return the changed scene
   */
  public Scene seeded(long other, Tapes others) {
    return new Scene(sections, other, others);
  }

  /**
   * The same scene with one section of another.
   *
   * @param name a name of {@link #allTables()}
   * @param other the scene whose section counts
   * @return the changed scene
   */
  public Scene taking(String name, Scene other) {
    Map<String, ParameterValues> changed = new LinkedHashMap<>(sections);
    changed.put(name, other.section(name));
    return new Scene(changed, seed, tapes);
  }

  private static List<Fault> contradictions(Map<String, ParameterValues> sections) {
    List<Fault> faults = new ArrayList<>(FluidSection.contradictions(valuesOf(sections, "fluid")));
    ParameterValues frontEnd = valuesOf(sections, "front_end");
    long below = 0;
    boolean ended = false;
    for (Parameter frequency : FrontEndSection.FREQUENCIES) {
      long hz = frontEnd.get(frequency);
      if (hz != 0 && (ended || hz <= below)) {
        String key = "front_end." + frequency.key();
        faults.add(
            new Fault(
                key,
                key
                    + ": "
                    + hz
                    + " Hz must be above the frequency before it, "
                    + (ended ? "which is unused" : below + " Hz")));
      }
      ended |= hz == 0;
      below = Math.max(below, hz);
    }
    faults.addAll(CanalSection.contradictions(valuesOf(sections, "canal")));
    faults.addAll(FluidSection.hanging(valuesOf(sections, "fluid"), valuesOf(sections, "canal")));
    return faults;
  }

  private static ParameterValues valuesOf(Map<String, ParameterValues> sections, String name) {
    return Objects.requireNonNull(sections.get(name));
  }

  /**
   * The values of one section.
   *
   * @param name a name of {@link #allTables()}
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

  /**
   * A stream of random numbers of the trial, at its beginning.
   *
   * @param name what the numbers are for
   * @return as the seed gives them, or from a tape
   */
  public RandomStream random(String name) {
    return RandomStream.of(seed, name, tapes);
  }
}
