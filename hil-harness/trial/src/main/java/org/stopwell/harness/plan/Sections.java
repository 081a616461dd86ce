package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;

/**
 * Values by section as written, each with its place. The tables define the sections and keys, and
 * check the values.
 */
final class Sections {
  /** A value as text, where it stands, and the file's own name for its key. */
  record Written(String text, int line, String path) {}

  private final Map<String, Map<String, Written>> values = new LinkedHashMap<>();
  private final Map<String, Integer> lines = new LinkedHashMap<>();

  private Sections() {}

  /**
   * Reads the sections that stand under some keys.
   *
   * @param at where the sections stand
   * @param path the full key of {@code at}, empty for the top of the file
   * @param tables tables by name; a dot in a name means a group within a group
   * @param others keys beside the sections, read elsewhere
   * @param mistakes receives unknown keys and sections that are not groups
   */
  static Sections read(
      Yaml.Mapping at,
      String path,
      Map<String, ParameterTable> tables,
      Set<String> others,
      Mistakes mistakes) {
    Sections sections = new Sections();
    sections.lines.put("", at.line());
    sections.read(at, path, "", tables, others, mistakes);
    return sections;
  }

  private void read(
      Yaml.Mapping at,
      String path,
      String name,
      Map<String, ParameterTable> tables,
      Set<String> others,
      Mistakes mistakes) {
    at.entries()
        .forEach(
            (key, entry) -> {
              String full = join(path, key);
              String section = join(name, key);
              boolean group = tables.keySet().stream().anyMatch(t -> t.startsWith(section + "."));
              ParameterTable table = tables.get(section);
              if (table == null && !group) {
                if (!others.contains(key)) {
                  mistakes.add(
                      entry.line(),
                      full,
                      "unknown key" + Hint.of(key, names(name, tables, others)));
                }
              } else if (!(entry.value() instanceof Yaml.Mapping inside)) {
                mistakes.add(entry.line(), full, entry.value().notA("a group of keys"));
              } else if (table == null) {
                lines.put(section, entry.line());
                read(inside, full, section, tables, Set.of(), mistakes);
              } else {
                lines.put(section, entry.line());
                Set<String> within = group ? names(section, tables, Set.of()) : Set.of();
                values.put(section, values(inside, full, table, within, mistakes));
                read(only(within, inside), full, section, tables, Set.of(), mistakes);
              }
            });
  }

  private static Yaml.Mapping only(Set<String> keys, Yaml.Mapping at) {
    Map<String, Yaml.Entry> kept = new LinkedHashMap<>(at.entries());
    kept.keySet().retainAll(keys);
    return new Yaml.Mapping(kept, at.line());
  }

  /**
   * The values of one table, as written; other keys than the table's and {@code others} are
   * mistakes.
   */
  static Map<String, Written> values(
      Yaml.Mapping at, String path, ParameterTable table, Set<String> others, Mistakes mistakes) {
    Map<String, Written> values = new LinkedHashMap<>();
    Set<String> known = new TreeSet<>(others);
    table.parameters().forEach(p -> known.add(p.key()));
    at.entries()
        .forEach(
            (key, entry) -> {
              String full = join(path, key);
              if (!known.contains(key)) {
                mistakes.add(entry.line(), full, "unknown key" + Hint.of(key, known));
              }
              table.parameters().stream()
                  .filter(p -> p.key().equals(key))
                  .forEach(
                      p ->
                          values.put(key, new Written(text(p, entry.value()), entry.line(), full)));
            });
    return values;
  }

  /** Reads and checks the values of one table that stands by itself. */
  static ParameterValues resolve(
      Yaml.Mapping at, String path, ParameterTable table, Set<String> others, Mistakes mistakes) {
    Map<String, Written> written = values(at, path, table, others, mistakes);
    Map<String, String> texts = new LinkedHashMap<>();
    written.forEach((key, value) -> texts.put(key, value.text()));
    List<Fault> faults = new ArrayList<>();
    ParameterValues values = table.resolve(texts, faults);
    for (Fault fault : faults) {
      Written where = written.get(fault.key());
      mistakes.add(where == null ? at.line() : where.line(), join(path, fault.key()), bare(fault));
    }
    return values;
  }

  /** The value for the table to check: a quoted number is a text, and a text is not a number. */
  static String text(Parameter parameter, Yaml value) {
    if (!(value instanceof Yaml.Scalar scalar)) {
      return value.word();
    }
    Yaml.Sort meant =
        switch (parameter.kind()) {
          case NUMBER -> Yaml.Sort.NUMBER;
          case FLAG -> Yaml.Sort.FLAG;
          case CHOICE, FILE -> Yaml.Sort.TEXT;
        };
    boolean quoted = scalar.sort() == Yaml.Sort.TEXT && meant != Yaml.Sort.TEXT;
    return quoted ? '"' + scalar.text() + '"' : scalar.word();
  }

  /** These values, with those of another set put over them. */
  Sections under(Sections over) {
    Sections merged = new Sections();
    Stream.of(this, over)
        .forEach(
            s -> {
              s.lines.forEach(merged.lines::putIfAbsent);
              s.values.forEach(
                  (name, keys) ->
                      merged.values.computeIfAbsent(name, n -> new LinkedHashMap<>()).putAll(keys));
            });
    return merged;
  }

  /** The values alone, by section. */
  Map<String, Map<String, String>> texts() {
    Map<String, Map<String, String>> texts = new LinkedHashMap<>();
    values.forEach(
        (name, keys) -> {
          Map<String, String> section = new LinkedHashMap<>();
          keys.forEach((key, written) -> section.put(key, written.text()));
          texts.put(name, section);
        });
    return texts;
  }

  /** A value that was written, if it was. */
  Stream<Written> find(String section, String key) {
    return Stream.ofNullable(values.getOrDefault(section, Map.of()).get(key));
  }

  /** Every written value as {@code section.key}. */
  Map<String, Written> flat() {
    Map<String, Written> flat = new LinkedHashMap<>();
    values.forEach((name, keys) -> keys.forEach((key, w) -> flat.put(join(name, key), w)));
    return flat;
  }

  /** Puts the faults that a table found where they belong in the file. */
  void place(List<Fault> faults, String path, Mistakes mistakes) {
    Map<String, Written> flat = flat();
    for (Fault fault : faults) {
      Written written = flat.get(fault.key());
      String key = written == null ? join(path, fault.key()) : written.path();
      int line = written == null ? lineAbove(fault.key()) : written.line();
      mistakes.add(line, key, bare(fault));
    }
  }

  /** The fault's sentence without the key it begins with. */
  static String bare(Fault fault) {
    String last = fault.key().substring(fault.key().lastIndexOf('.') + 1) + ": ";
    String full = fault.key() + ": ";
    if (fault.message().startsWith(full)) {
      return fault.message().substring(full.length());
    }
    return fault.message().startsWith(last)
        ? fault.message().substring(last.length())
        : fault.message();
  }

  /** The line of the nearest section that was written. */
  private int lineAbove(String key) {
    String name = key;
    while (!lines.containsKey(name)) {
      name = name.contains(".") ? name.substring(0, name.lastIndexOf('.')) : "";
    }
    return lines.getOrDefault(name, 0);
  }

  private static Set<String> names(
      String name, Map<String, ParameterTable> tables, Set<String> others) {
    Set<String> names = new TreeSet<>(others);
    String begin = name.isEmpty() ? "" : name + ".";
    for (String table : tables.keySet()) {
      if (table.startsWith(begin)) {
        names.add(List.of(table.substring(begin.length()).split("\\.", 2)).get(0));
      }
    }
    return names;
  }

  static String join(String path, String key) {
    return path.isEmpty() ? key : path + "." + key;
  }
}
