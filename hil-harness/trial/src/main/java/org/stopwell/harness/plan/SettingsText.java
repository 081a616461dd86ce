package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/**
 * The text of a settings file, of which single values can be read and replaced. Comments, order and
 * every other value stay as they are.
 */
public final class SettingsText {
  /** A value that needs no quotes. */
  private static final Pattern PLAIN = Pattern.compile("[A-Za-z0-9_.+-]+");

  private static final int LONGEST = 100;

  private final String name;
  private final String text;
  private final Yaml.Mapping top;

  /**
   * A text.
   *
   * @param name the file as it was named
   * @param text all of it
   */
  public SettingsText(String name, String text) {
    this.name = name;
    this.text = text;
    top = new Source(name, text).top(new Mistakes(name));
  }

  /**
   * The values that a section gives.
   *
   * @param section its full key, such as {@code stages.length}
   * @return values by key, as they are written; empty where there is no such section
   */
  public Map<String, String> values(String section) {
    Map<String, String> values = new LinkedHashMap<>();
    Yaml.Mapping at = find(section);
    if (at != null) {
      at.entries()
          .forEach(
              (key, entry) -> {
                if (entry.value() instanceof Yaml.Scalar scalar) {
                  values.put(key, scalar.text());
                }
              });
    }
    return values;
  }

  /**
   * Whether there is a section.
   *
   * @param section its full key
   * @return true for a group of keys
   */
  public boolean has(String section) {
    return find(section) != null;
  }

  /**
   * The text with one value replaced, added or taken out.
   *
   * @param section full key of its section, which must be there
   * @param key the key
   * @param value the value; empty takes the key out, so that its default holds
   * @return the new text; empty where the value cannot be replaced alone, such as in a list on one
   *     line
   */
  public Optional<String> with(String section, String key, String value) {
    Yaml.Mapping at = find(section);
    if (at == null
        || at.entries().isEmpty()
        || value.length() > LONGEST
        || value.chars().anyMatch(Character::isISOControl)) {
      return Optional.empty();
    }
    List<String> lines = new ArrayList<>(Arrays.asList(text.split("\n", -1)));
    Yaml.Entry entry = at.entries().get(key);
    String written = PLAIN.matcher(value).matches() ? value : quoted(value);
    if (entry == null) {
      if (value.isEmpty()) {
        return Optional.of(text);
      }
      Map.Entry<String, Yaml.Entry> first = at.entries().entrySet().iterator().next();
      Matcher line = line(first.getKey(), lines.get(first.getValue().line() - 1));
      int last = at.entries().values().stream().mapToInt(Yaml.Entry::line).max().orElseThrow();
      if (!line.matches()) {
        return Optional.empty();
      }
      lines.add(last, line.group(1) + key + ": " + written);
    } else {
      Matcher line = line(key, lines.get(entry.line() - 1));
      if (!line.matches()) {
        return Optional.empty();
      }
      if (value.isEmpty()) {
        lines.remove(entry.line() - 1);
      } else {
        String comment = line.group(2) == null ? "" : line.group(2);
        lines.set(entry.line() - 1, line.group(1) + key + ": " + written + comment);
      }
    }
    String changed = String.join("\n", lines);
    return isOnlyThat(changed, section, key, value) ? Optional.of(changed) : Optional.empty();
  }

  private static Matcher line(String key, String line) {
    return Pattern.compile("(\\s*)" + Pattern.quote(key) + "\\s*:.*?(\\s+#.*)?").matcher(line);
  }

  private static String quoted(String value) {
    return '"' + value.replace("\\", "\\\\").replace("\"", "\\\"") + '"';
  }

  /** Whether the change did what it should, and nothing else. */
  private boolean isOnlyThat(String changed, String section, String key, String value) {
    Map<String, String> before = new LinkedHashMap<>();
    Map<String, String> after = new LinkedHashMap<>();
    flatten(top, "", before);
    flatten(new SettingsText(name, changed).top, "", after);
    String full = section + "." + key;
    if (value.isEmpty()) {
      before.remove(full);
    } else {
      before.put(full, value);
    }
    return before.equals(after);
  }

  private static void flatten(Yaml at, String path, Map<String, String> into) {
    if (at instanceof Yaml.Mapping mapping) {
      mapping
          .entries()
          .forEach(
              (key, entry) ->
                  flatten(entry.value(), path.isEmpty() ? key : path + "." + key, into));
    } else if (at instanceof Yaml.Items items) {
      for (int i = 0; i < items.items().size(); i++) {
        flatten(items.items().get(i), path + "[" + i + "]", into);
      }
    } else if (at instanceof Yaml.Scalar scalar) {
      into.put(path, scalar.text());
    }
  }

  private Yaml.@Nullable Mapping find(String section) {
    Yaml.Mapping at = top;
    for (String part : section.split("\\.", -1)) {
      Yaml.Entry entry = at.entries().get(part);
      if (entry == null || !(entry.value() instanceof Yaml.Mapping inside)) {
        return null;
      }
      at = inside;
    }
    return at;
  }
}
