package org.stopwell.harness.protocol;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;

/**
 * One deviation from the frozen plan.
 *
 * @param what key of the plan, of the settings or of the station, or {@code build}
 * @param planned as it was frozen, empty when it was not there
 * @param found as it was run, empty when it is gone
 */
public record Deviation(String what, String planned, String found) {
  /**
   * Everything that differs.
   *
   * @param planned values by key
   * @param found values by key, as they are now
   * @return one deviation for each key with another value, in the order of the keys
   */
  public static List<Deviation> between(Map<String, String> planned, Map<String, String> found) {
    List<Deviation> deviations = new ArrayList<>();
    TreeSet<String> keys = new TreeSet<>(planned.keySet());
    keys.addAll(found.keySet());
    for (String key : keys) {
      String then = planned.getOrDefault(key, "");
      String now = found.getOrDefault(key, "");
      if (!then.equals(now)) {
        deviations.add(new Deviation(key, then, now));
      }
    }
    return deviations;
  }

  /**
   * The deviation in plain words.
   *
   * @return such as {@code plan.trials: planned 20, found 5}
   */
  public String sentence() {
    return what + ": planned " + orNothing(planned) + ", found " + orNothing(found);
  }

  private static String orNothing(String value) {
    return value.isEmpty() ? "nothing" : value;
  }
}
