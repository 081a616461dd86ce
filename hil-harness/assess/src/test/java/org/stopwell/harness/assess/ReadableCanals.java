package org.stopwell.harness.assess;

import java.util.HashMap;
import java.util.Map;

/**
 * Canals whose dentine hardly conducts, with a traditional constriction and a weak irrigant: those
 * that a reading can tell apart. The drawn population holds many that none can.
 */
final class ReadableCanals {
  private ReadableCanals() {}

  /** Scene values of such a canal. */
  static Map<String, Map<String, String>> of(String kind) {
    Map<String, Map<String, String>> all = new HashMap<>(Training.FREQUENCIES);
    all.put(
        "canal",
        Map.of(
            "kind", kind, "wall_ohm_m", "1000", "constriction", "traditional", "exudate_mm", "0"));
    all.put("fluid", Map.of("conductivity_s_per_m", "2"));
    return all;
  }
}
