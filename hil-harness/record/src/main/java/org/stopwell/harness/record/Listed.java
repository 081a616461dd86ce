package org.stopwell.harness.record;

import java.util.Arrays;
import java.util.List;

/** Reads a word of a closed list. */
final class Listed {
  private Listed() {}

  /**
   * The member with a name.
   *
   * @param list the members
   * @param place where the word stands
   * @param word the word
   * @return the member
   * @throws IllegalArgumentException with place, word and list
   */
  static <E extends Enum<E>> E of(Class<E> list, String place, String word) {
    List<E> all = Arrays.asList(list.getEnumConstants());
    return all.stream()
        .filter(e -> e.name().equals(word))
        .findFirst()
        .orElseThrow(
            () -> {
              String said = word.length() > 40 ? word.substring(0, 40) + "…" : word;
              return new IllegalArgumentException(
                  place + ": \"" + said + "\", must be one of " + all.toString());
            });
  }
}
