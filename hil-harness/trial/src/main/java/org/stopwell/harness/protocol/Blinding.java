package org.stopwell.harness.protocol;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.rig.random.RandomStream;

/**
 * A factor whose levels have codes until the run is unblinded, so that a reader judges the report
 * without knowing the levels. It guards the reader against bias, not the data against the owner of
 * the bench: the run file holds the key.
 *
 * @param factor the factor
 * @param place its place in the names of the conditions, from 0
 * @param codes code of each level, in the order of the plan
 */
public record Blinding(String factor, int place, Map<String, String> codes) {
  /** Takes a copy that keeps the order. */
  public Blinding {
    codes = Collections.unmodifiableMap(new LinkedHashMap<>(codes));
  }

  /**
   * Draws the codes.
   *
   * @param factor the factor
   * @param place its place in the names of the conditions, from 0
   * @param levels its levels, at most 26
   * @param seed campaign seed
   * @return the codes A, B, C … in an order drawn
   */
  public static Blinding draw(String factor, int place, List<String> levels, long seed) {
    int[] order = new int[levels.size()];
    RandomStream stream = RandomStream.of(seed, "codes of " + factor);
    for (int i = 0; i < order.length; i++) {
      int j = (int) StrictMath.floor(stream.nextDouble() * (i + 1));
      order[i] = order[j];
      order[j] = i;
    }
    Map<String, String> codes = new LinkedHashMap<>();
    for (int i = 0; i < order.length; i++) {
      codes.put(levels.get(i), String.valueOf((char) ('A' + order[i])));
    }
    return new Blinding(factor, place, codes);
  }

  /**
   * The name of a condition with the level coded.
   *
   * @param condition such as {@code half-wet/slow}
   * @return such as {@code half-wet/B}
   */
  public String coded(String condition) {
    String[] levels = condition.split("/", -1);
    if (place < levels.length) {
      levels[place] = codes.getOrDefault(levels[place], levels[place]);
    }
    return String.join("/", levels);
  }
}
