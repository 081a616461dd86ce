package org.stopwell.harness.standing;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;

/** The differences between two stations, key by key. */
final class SetupChange {
  private SetupChange() {}

  /**
   * Names what changed.
   *
   * @param then a setup, {@code key=value} with a space between; empty when none was on record
   * @param now another
   * @return a sentence without its end
   */
  static String words(String then, String now) {
    if (then.isEmpty() || now.isEmpty()) {
      return then.isEmpty() ? "no record at the start" : "no record now";
    }
    Map<String, String> before = values(then);
    Map<String, String> after = values(now);
    Set<String> keys = new TreeSet<>(before.keySet());
    keys.addAll(after.keySet());
    List<String> changes = new ArrayList<>();
    for (String key : keys) {
      if (!Objects.equals(before.get(key), after.get(key))) {
        changes.add(
            key
                + " was "
                + before.getOrDefault(key, "not there")
                + ", now "
                + after.getOrDefault(key, "not there"));
      }
    }
    return String.join("; ", changes);
  }

  private static Map<String, String> values(String setup) {
    Map<String, String> values = new LinkedHashMap<>();
    for (String pair : setup.split(" ", -1)) {
      int at = pair.indexOf('=');
      values.put(pair.substring(0, Math.max(0, at)), pair.substring(at + 1));
    }
    return values;
  }
}
