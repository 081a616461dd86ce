package org.stopwell.harness.plan;

/** Finds a group of keys within another. */
final class Groups {
  private Groups() {}

  /** The group under a key, empty when it is missing; anything else there is a mistake. */
  static Yaml.Mapping of(Yaml.Mapping at, String key, Mistakes mistakes) {
    return of(at, "", key, mistakes);
  }

  /** The group under a key of a group that has a full key of its own. */
  static Yaml.Mapping of(Yaml.Mapping at, String path, String key, Mistakes mistakes) {
    Yaml.Entry entry = at.entries().get(key);
    if (entry == null) {
      return Yaml.Mapping.empty(at.line());
    }
    if (entry.value() instanceof Yaml.Mapping mapping) {
      return mapping;
    }
    mistakes.add(entry.line(), Sections.join(path, key), entry.value().notA("a group of keys"));
    return Yaml.Mapping.empty(entry.line());
  }

  /** The line of a key, or of the group when it is missing. */
  static int line(Yaml.Mapping at, String key) {
    Yaml.Entry entry = at.entries().get(key);
    return entry == null ? at.line() : entry.line();
  }
}
