package org.stopwell.harness.plan;

/**
 * One thing wrong in a file.
 *
 * @param file the file as it was named
 * @param line line in it, from 1; 0 when the file as a whole is meant
 * @param key the full key, such as {@code stages.length.standoff_mm}; empty when no key is meant
 * @param message what is wrong, with value, limit and unit
 */
public record Mistake(String file, int line, String key, String message) {
  @Override
  public String toString() {
    return file + (line > 0 ? ":" + line : "") + ": " + (key.isEmpty() ? "" : key + ": ") + message;
  }
}
