package org.stopwell.harness.advice;

import java.util.Map;
import java.util.function.Consumer;
import org.stopwell.harness.plan.Device;
import org.stopwell.harness.plan.Plan;
import org.stopwell.rig.bench.CanalKind;
import org.stopwell.rig.bench.CanalSection;

/** States which devices a plan tests, what the bench must have, and what the results can say. */
final class DeviceAdvice {
  private DeviceAdvice() {}

  static void print(Plan plan, Consumer<String> out) {
    out.accept(
        "  devices under test: "
            + String.join(
                "; ",
                plan.plannedConditions().stream()
                    .flatMap(c -> c.device().stream())
                    .map(Device::words)
                    .distinct()
                    .toList()));
    out.accept(
        "  the bench must watch a device: rotation, position at the shank, feed (--bench virtual"
            + " with a simulated device, or boards)");
    boolean network =
        plan.plannedConditions().stream()
            .map(c -> c.scene().getOrDefault("canal", Map.of()))
            .map(c -> c.getOrDefault(CanalSection.KIND.key(), ""))
            .anyMatch(DeviceAdvice::isBuilt);
    if (network) {
      out.accept(
          "  on a network of resistors only static trip, repeatability, hysteresis and overshoot per"
              + " feed have a meaning; absolute errors need teeth");
    }
  }

  private static boolean isBuilt(String word) {
    for (CanalKind kind : CanalKind.values()) {
      if (kind.isBuilt() && kind.name().equalsIgnoreCase(word)) {
        return true;
      }
    }
    return false;
  }
}
