package org.stopwell.harness.plan;

import java.util.regex.Pattern;

/** Reads the few keys whose value is free text. */
final class FreeText {
  private static final Pattern NAME = Pattern.compile("[\\p{L}\\p{N}][\\p{L}\\p{N}._ +-]{0,59}");

  private FreeText() {}

  /** A name that must be given: letters, digits, space and {@code . _ + -}, at most 60 of them. */
  static String name(Yaml.Mapping at, String key, Mistakes mistakes) {
    String name = required(at, key, mistakes);
    if (!name.isEmpty() && !isName(name)) {
      mistakes.add(line(at, key), key, notName(name));
    }
    return name;
  }

  static boolean isName(String text) {
    return NAME.matcher(text).matches();
  }

  static String notName(String text) {
    return "\"" + text + "\" is not a name: letters, digits, space and . _ + -, at most 60";
  }

  static String required(Yaml.Mapping at, String key, Mistakes mistakes) {
    if (!at.entries().containsKey(key)) {
      mistakes.add(at.line(), key, "missing");
      return "";
    }
    return optional(at, key, mistakes);
  }

  static String optional(Yaml.Mapping at, String key, Mistakes mistakes) {
    Yaml.Entry entry = at.entries().get(key);
    if (entry == null) {
      return "";
    }
    if (entry.value() instanceof Yaml.Scalar scalar
        && scalar.sort() == Yaml.Sort.TEXT
        && !scalar.text().isBlank()) {
      return scalar.text().strip();
    }
    mistakes.add(entry.line(), key, entry.value().word() + " is not text");
    return "";
  }

  private static int line(Yaml.Mapping at, String key) {
    Yaml.Entry entry = at.entries().get(key);
    return entry == null ? at.line() : entry.line();
  }
}
