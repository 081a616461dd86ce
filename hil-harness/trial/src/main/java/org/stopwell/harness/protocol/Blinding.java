package org.stopwell.harness.protocol;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * A factor whose levels go by codes until the run is unblinded, so that a reader judges the report
 * without knowing the levels. A run file holds the commitment to its {@link BlindKey}; one before
 * version 4 holds the codes themselves.
 *
 * @param factor the factor
 * @param place its place in the names of the conditions, from 0
 * @param commitment SHA-256 of the key, 64 hexadecimal digits; empty in a plan and before version 4
 * @param codes code of each level in a run file before version 4, otherwise empty
 * @param open whether the levels go by their own names here
 */
public record Blinding(
    String factor, int place, String commitment, Map<String, String> codes, boolean open) {
  /** Takes a copy that keeps the order. */
  public Blinding {
    codes = Collections.unmodifiableMap(new LinkedHashMap<>(codes));
  }

  /**
   * A factor that a plan blinds; the codes are drawn when the run begins.
   *
   * @param factor the factor
   * @param place its place in the names of the conditions, from 0
   */
  public Blinding(String factor, int place) {
    this(factor, place, "", Map.of(), /* open= */ false);
  }

  /**
   * A factor with the codes that a run file before version 4 holds.
   *
   * @param factor the factor
   * @param place its place in the names of the conditions, from 0
   * @param codes code of each level
   */
  public Blinding(String factor, int place, Map<String, String> codes) {
    this(factor, place, "", codes, /* open= */ false);
  }

  /**
   * The same factor, committed to a key.
   *
   * @param key the key
   * @return the changed blinding
   */
  public Blinding committedTo(BlindKey key) {
    return new Blinding(factor, place, key.commitment(), Map.of(), open);
  }

  /**
   * The same factor with its levels by their own names.
   *
   * @return the changed blinding
   */
  public Blinding opened() {
    return new Blinding(factor, place, commitment, codes, /* open= */ true);
  }

  /**
   * A condition with the level of the factor under another name.
   *
   * @param condition such as {@code half-wet/slow}
   * @param names the other name of each level
   * @return such as {@code half-wet/B}; sentinels keep their name
   */
  public String renamed(String condition, Map<String, String> names) {
    if (condition.equals(SentinelRule.CONDITION)) {
      return condition;
    }
    String[] levels = condition.split("/", -1);
    if (place < levels.length) {
      levels[place] = names.getOrDefault(levels[place], levels[place]);
    }
    return String.join("/", levels);
  }
}
