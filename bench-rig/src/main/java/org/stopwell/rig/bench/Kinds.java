package org.stopwell.rig.bench;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/** The words of a scene for the constants of an enum. */
final class Kinds {
  private Kinds() {}

  /** One word for each constant, in their order, so that the index of a choice is its ordinal. */
  static List<String> words(Enum<?>[] constants) {
    return Arrays.stream(constants).map(c -> c.name().toLowerCase(Locale.ROOT)).toList();
  }
}
