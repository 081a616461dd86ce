package org.stopwell.harness.plan;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.stream.Stream;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.SenseParameters;

/** A settings file with the values of some factors replaced, as a complete file of its own. */
public final class TunedSettings {
  private static final String SETTINGS = "settings.";
  private static final String WEIGHTS = "sense." + SenseParameters.WEIGHTS.key();

  private final Settings settings;
  private final Path directory;

  /**
   * The settings of a condition, to be written elsewhere.
   *
   * @param settings the settings
   * @param directory the directory of the new file
   */
  public TunedSettings(Settings settings, Path directory) {
    this.settings = settings;
    this.directory = directory;
  }

  /**
   * The present value of a factor of the settings.
   *
   * @param settings the settings
   * @param factor a factor below {@code settings}
   * @return as people write it; empty where the settings do not have its section
   */
  public static Optional<String> present(Settings settings, Factor factor) {
    String key = factor.key().substring(SETTINGS.length());
    String section = key.substring(0, key.lastIndexOf('.'));
    Parameter p = factor.parameter();
    return settings.controller().written().containsKey(section)
        ? Optional.of(p.human(settings.controller().section(section).get(p)))
        : Optional.empty();
  }

  /**
   * Whether a plan states the value of a factor itself, over that of its settings file.
   *
   * @param space a space
   * @param factor a factor below {@code settings}
   * @return true where the condition of the space has another value than its file
   */
  public static boolean isStatedByPlan(Space space, Factor factor) {
    Settings effective = space.condition().settings();
    return Stream.concat(
            Stream.of(space.plan().settings()), space.plan().settingsFiles().values().stream())
        .filter(file -> file.source().name().equals(effective.source().name()))
        .anyMatch(file -> !present(file, factor).equals(present(effective, factor)));
  }

  /**
   * The new file. Comments, order and every other value stay as they are where that is possible.
   *
   * @param values the new values by factor
   * @param comment lines at the top, without the sign of a comment
   * @return its text, which reads as settings with these values
   * @throws PlanException when the new file would be wrong
   */
  public String text(Map<Factor, String> values, List<String> comment) throws PlanException {
    Source source = settings.source();
    String text = source.text();
    for (Map.Entry<Factor, String> one : values.entrySet()) {
      String key = one.getKey().key().substring(SETTINGS.length());
      text = replaced(text, key, PlanPoint.sort(one.getKey()), one.getValue());
    }
    if (!settings.weights().name().equals(WeightsSource.SHIPPED)) {
      Path weights = source.besides(settings.weights().name()).toAbsolutePath().normalize();
      Path from = directory.toAbsolutePath().normalize();
      text = replaced(text, WEIGHTS, Yaml.Sort.TEXT, from.relativize(weights).toString());
    }
    text =
        text.replaceFirst("(?m)^# yaml-language-server:.*\\R", "")
            .replaceFirst(
                "(?m)^name:.*$", Matcher.quoteReplacement("name: " + settings.name() + "-tuned"));
    StringBuilder all = new StringBuilder();
    comment.forEach(line -> all.append("# ").append(line).append('\n'));
    all.append(text);
    Settings.read(
        new Source(directory.resolve("tuned.yaml").toString(), all.toString()),
        settings.policies());
    return all.toString();
  }

  private String replaced(String text, String key, Yaml.Sort sort, String value) {
    int dot = key.lastIndexOf('.');
    String name = settings.source().name();
    return new SettingsText(name, text)
        .with(key.substring(0, dot), key.substring(dot + 1), value)
        .orElseGet(() -> rewritten(text, key, sort, value));
  }

  /** The same by the tree of keys; comments are lost. */
  private String rewritten(String text, String key, Yaml.Sort sort, String value) {
    String name = settings.source().name();
    List<String> path = new ArrayList<>(List.of(key.split("\\.", -1)));
    Yaml.Mapping top = copy(new Source(name, text).top(new Mistakes(name)));
    Yaml.Mapping at = top;
    while (path.size() > 1) {
      String group = path.remove(0);
      Yaml.Entry entry = at.entries().get(group);
      Yaml.Mapping inside =
          entry != null && entry.value() instanceof Yaml.Mapping known
              ? copy(known)
              : Yaml.Mapping.empty(0);
      at.entries().put(group, new Yaml.Entry(0, inside));
      at = inside;
    }
    at.entries().put(path.get(0), new Yaml.Entry(0, new Yaml.Scalar(value, sort, 0)));
    return YamlText.of(top);
  }

  private static Yaml.Mapping copy(Yaml.Mapping of) {
    return new Yaml.Mapping(new LinkedHashMap<>(of.entries()), of.line());
  }
}
