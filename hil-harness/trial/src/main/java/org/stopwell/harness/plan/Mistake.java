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
  /** Longest key and longest message, characters; assumed: some lines on a screen. */
  private static final int LONGEST_KEY = 200;

  private static final int LONGEST_MESSAGE = 2000;

  /** Shortens what a hostile file makes long. */
  public Mistake {
    key = shortened(key, LONGEST_KEY);
    message = shortened(message, LONGEST_MESSAGE);
  }

  private static String shortened(String text, int longest) {
    return text.length() <= longest ? text : text.substring(0, longest) + "…";
  }

  @Override
  public String toString() {
    return file + (line > 0 ? ":" + line : "") + ": " + (key.isEmpty() ? "" : key + ": ") + message;
  }
}
