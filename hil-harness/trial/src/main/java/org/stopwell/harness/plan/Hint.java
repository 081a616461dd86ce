package org.stopwell.harness.plan;

import java.util.Collection;
import java.util.Comparator;
import java.util.Locale;
import org.stopwell.core.settings.Renamed;

/** Guesses the intended key. */
final class Hint {
  /** Longest key for which there is a hint, characters; assumed: twice the longest key. */
  private static final int LONGEST = 80;

  private Hint() {}

  /**
   * A sentence end such as {@code ; did you mean standoff_mm?}, or nothing; for a word of an
   * earlier build, the word that replaces it.
   */
  static String of(String written, Collection<String> known) {
    if (written.length() > LONGEST) {
      return "";
    }
    String renamed = Renamed.hint(written, known);
    return renamed.isEmpty() ? guess(written, known) : renamed;
  }

  private static String guess(String written, Collection<String> known) {
    String key = written.toLowerCase(Locale.ROOT).replace('-', '_').replace(' ', '_');
    return known.stream()
        .filter(k -> k.equals(key) || stem(k).equals(stem(key)) || stem(k).equals(key))
        .findFirst()
        .or(
            () ->
                known.stream()
                    .filter(k -> distance(k, key) <= Math.max(1, key.length() / 3))
                    .min(Comparator.comparingInt(k -> distance(k, key))))
        .map(k -> "; did you mean " + k + "?")
        .orElse("");
  }

  /** The key without the unit at its end. */
  private static String stem(String key) {
    int cut = key.lastIndexOf('_');
    return cut > 0 ? key.substring(0, cut) : key;
  }

  /** How many letters to add, drop or change (Levenshtein 1966). */
  private static int distance(String a, String b) {
    int[] row = new int[b.length() + 1];
    for (int j = 0; j <= b.length(); j++) {
      row[j] = j;
    }
    for (int i = 1; i <= a.length(); i++) {
      int diagonal = row[0];
      row[0] = i;
      for (int j = 1; j <= b.length(); j++) {
        int change = diagonal + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
        diagonal = row[j];
        row[j] = Math.min(change, Math.min(row[j], row[j - 1]) + 1);
      }
    }
    return row[b.length()];
  }
}
