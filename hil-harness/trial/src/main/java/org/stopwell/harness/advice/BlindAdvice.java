package org.stopwell.harness.advice;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Consumer;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.protocol.Blinding;

/** Warns where the results themselves name the levels of a blinded factor. */
final class BlindAdvice {
  private BlindAdvice() {}

  static void print(Plan plan, Consumer<String> out) {
    if (plan.protocol().blinding().isEmpty()) {
      return;
    }
    Blinding blinding = plan.protocol().blinding().get();
    Map<String, Set<List<Object>>> asked = new TreeMap<>();
    plan.conditions()
        .forEach(
            c -> {
              List<String> others = new ArrayList<>(List.of(c.name().split("/", -1)));
              others.remove(blinding.place());
              asked
                  .computeIfAbsent(String.join("/", others), key -> new HashSet<>())
                  .add(List.of(c.expectation(), c.standoffMicrons()));
            });
    if (asked.values().stream().anyMatch(kinds -> kinds.size() > 1)) {
      out.accept(
          "  warning: blind: the levels of "
              + blinding.factor()
              + " differ in what the plan expects or in the standoff (set distance short of the"
              + " foramen). The report shows both, so the codes hide little.");
    }
  }
}
