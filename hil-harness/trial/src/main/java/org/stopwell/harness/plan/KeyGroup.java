package org.stopwell.harness.plan;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.plan.Settings.Overlay;
import org.stopwell.rig.bench.Scene;

/**
 * A group of keys in a file for people that is neither a plan nor settings, read as strictly as
 * these: unknown and duplicate keys are mistakes, and all mistakes of a file come at once, each
 * with its line.
 */
public final class KeyGroup {
  private final Source source;
  private final Yaml.Mapping at;
  private final String path;
  private final Mistakes mistakes;

  private KeyGroup(Source source, Yaml.Mapping at, String path, Mistakes mistakes) {
    this.source = source;
    this.at = at;
    this.path = path;
    this.mistakes = mistakes;
  }

  /** Values by section as they were written, each with its place. */
  public static final class Written {
    private final Sections sections;

    private Written(Sections sections) {
      this.sections = sections;
    }

    /**
     * The values alone.
     *
     * @return values by key, by section
     */
    public Map<String, Map<String, String>> texts() {
      return sections.texts();
    }
  }

  /** Settings of a file with the stages of one or more groups put over them. */
  public static final class Changed {
    private final Settings file;
    private final Overlay over;
    private final Settings settings;

    private Changed(Settings file, Overlay over, Settings settings) {
      this.file = file;
      this.over = over;
      this.settings = settings;
    }

    /**
     * Settings that nothing has changed.
     *
     * @param file the settings of the file
     * @return these settings
     */
    public static Changed nothing(Settings file) {
      return new Changed(file, Overlay.of(file), file);
    }

    /**
     * The changed settings.
     *
     * @return the settings that count
     */
    public Settings settings() {
      return settings;
    }

    /**
     * What the groups state.
     *
     * @return values as written, sections such as {@code stages.length}
     */
    public Written written() {
      return new Written(over.values());
    }
  }

  /**
   * The top of a file.
   *
   * @param source the file
   * @return its top-level keys
   * @throws PlanException when the text is not YAML
   */
  public static KeyGroup of(Source source) throws PlanException {
    Mistakes mistakes = new Mistakes(source.name());
    Yaml.Mapping top = source.top(mistakes);
    if (top.entries().isEmpty()) {
      mistakes.throwIfAny();
    }
    return new KeyGroup(source, top, "", mistakes);
  }

  /**
   * The keys that stand here.
   *
   * @return in the order of the file
   */
  public List<String> keys() {
    return List.copyOf(at.entries().keySet());
  }

  /**
   * Whether a key stands here.
   *
   * @param key the key
   * @return true when it does, whatever its value
   */
  public boolean has(String key) {
    return at.entries().containsKey(key);
  }

  /**
   * Notes a mistake.
   *
   * @param key the key that is wrong; its line counts, or that of the group where it is missing
   * @param message what is wrong, with value, limit and unit
   */
  public void wrong(String key, String message) {
    mistakes.add(Groups.line(at, key), Sections.join(path, key), message);
  }

  /**
   * The plain values of this group; every key that is in neither argument is a mistake.
   *
   * @param table keys, limits and units
   * @param others keys that are read by the other methods
   * @return the checked values
   */
  public ParameterValues values(ParameterTable table, Set<String> others) {
    return Sections.resolve(at, path, table, others, mistakes);
  }

  /**
   * A text.
   *
   * @param key its key
   * @return empty when the key is missing, or its value is not text and so a mistake
   */
  public Optional<String> text(String key) {
    Mistakes own = new Mistakes(source.name());
    String text = FreeText.optional(at, key, own);
    own.all().forEach(m -> mistakes.add(m.line(), Sections.join(path, m.key()), m.message()));
    return text.isEmpty() ? Optional.empty() : Optional.of(text);
  }

  /**
   * A group within this one.
   *
   * @param key its key
   * @return empty when the key is missing, or its value is not a group and so a mistake
   */
  public Optional<KeyGroup> group(String key) {
    Yaml.Entry entry = at.entries().get(key);
    if (entry == null) {
      return Optional.empty();
    }
    if (entry.value() instanceof Yaml.Mapping inside) {
      return Optional.of(new KeyGroup(source, inside, Sections.join(path, key), mistakes));
    }
    wrong(key, entry.value().notA("a group of keys"));
    return Optional.empty();
  }

  /**
   * The settings file that a key names, relative to this file.
   *
   * @param key the key
   * @return empty when it cannot be used; its mistakes are then among those of this file
   */
  public Optional<Settings> settingsFile(String key) {
    Optional<String> name = text(key);
    if (name.isEmpty()) {
      if (!has(key)) {
        wrong(key, "missing");
      }
      return Optional.empty();
    }
    try {
      return Optional.of(Settings.read(Source.of(source.besides(name.get()))));
    } catch (PlanException e) {
      mistakes.addAll(e.mistakes());
      return Optional.empty();
    }
  }

  /**
   * Scene values by section.
   *
   * @param key the key of the sections
   * @return all values as written; ranges are for {@link #place} to report
   */
  public Written scene(String key) {
    return new Written(
        Sections.read(
            Groups.of(at, path, key, mistakes),
            Sections.join(path, key),
            Scene.tables(),
            Set.of(),
            mistakes));
  }

  /**
   * Scene values by section over those of another group.
   *
   * @param key the key of the sections
   * @param under values that those of this group replace
   * @return all values as written
   */
  public Written scene(String key, Written under) {
    return new Written(under.sections.under(scene(key).sections));
  }

  /**
   * Places what is wrong with scene values.
   *
   * @param key the key of the sections in this group
   * @param scene the values
   * @param faults what a table found, keys as {@code section.key}
   */
  public void place(String key, Written scene, List<Fault> faults) {
    scene.sections.place(faults, Sections.join(path, key), mistakes);
  }

  /**
   * Settings with the stages of this group put over them.
   *
   * @param key the key of the stages
   * @param under the settings below
   * @return the changed settings; what is wrong with them is noted here
   */
  public Changed stages(String key, Changed under) {
    Yaml.Entry entry = at.entries().get(key);
    if (entry == null) {
      return under;
    }
    Yaml.Mapping only = new Yaml.Mapping(Map.of(key, entry), at.line());
    Overlay own = Overlay.read(only, path, under.file.policies(), mistakes);
    Overlay both = under.over.under(own);
    return new Changed(under.file, both, under.file.with(both, Sections.join(path, key), mistakes));
  }

  /**
   * Ends the reading of the file.
   *
   * @throws PlanException with every mistake that was noted in it
   */
  public void finish() throws PlanException {
    mistakes.throwIfAny();
  }

  /**
   * Every mistake noted so far.
   *
   * @return in the order of the lines
   */
  public List<Mistake> mistakes() {
    return mistakes.all();
  }
}
