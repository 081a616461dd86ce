package org.stopwell.harness.plan;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import tools.jackson.jr.ob.JSON;

/** Dates in files, and texts that a file must quote. */
final class Dates {
  private Dates() {}

  /** A date that must be given; {@link LocalDate#MIN} with the mistake noted when it is not. */
  static LocalDate required(Yaml.Mapping at, String path, String key, Mistakes mistakes) {
    Yaml.Entry entry = at.entries().get(key);
    if (entry == null) {
      mistakes.add(at.line(), path + "." + key, "missing");
      return LocalDate.MIN;
    }
    try {
      return LocalDate.parse(entry.value().word());
    } catch (DateTimeParseException e) {
      mistakes.add(
          entry.line(),
          path + "." + key,
          entry.value().word() + " is not a date such as 2026-03-31");
      return LocalDate.MIN;
    }
  }

  /** A text in quotes: every JSON text is a YAML text. */
  static String quoted(String text) {
    return JSON.std.asString(text);
  }
}
