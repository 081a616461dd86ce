package org.stopwell.harness.casework;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/** How the root ends: what a reading near the foramen, and a filling, depend on. */
public enum ApexState {
  /** A grown root with a constriction. */
  CLOSED,
  /** A root that is not yet grown: no constriction, wide foramen. */
  OPEN,
  /** A root that resorption has shortened or widened. */
  RESORBED;

  /**
   * The state as a case file writes it.
   *
   * @return one word
   */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** Every word, in the order of this list. */
  static List<String> words() {
    return Arrays.stream(values()).map(ApexState::word).toList();
  }

  /** The state of a word that a table has checked. */
  static ApexState of(String word) {
    return Arrays.stream(values()).filter(a -> a.word().equals(word)).findFirst().orElse(CLOSED);
  }
}
