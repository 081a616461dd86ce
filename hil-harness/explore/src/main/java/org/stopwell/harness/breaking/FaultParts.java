package org.stopwell.harness.breaking;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.Injection;

/** The ingredients of a fault: its start, which costs nothing, its duration and its strength. */
final class FaultParts {
  private static final long NS_PER_MS = 1_000_000;

  private FaultParts() {}

  static List<Ingredient> of(FaultKind kind) {
    List<Ingredient> parts = new ArrayList<>();
    parts.add(part(kind, "at_ms", false, true));
    if (FaultKinds.lasts(kind)) {
      parts.add(part(kind, "for_ms", false, false));
    }
    if (FaultKinds.isStrong(kind)) {
      parts.add(part(kind, "strength", FaultKinds.isTwoSided(kind), false));
    }
    return parts;
  }

  private static Ingredient part(FaultKind kind, String key, boolean twoSided, boolean free) {
    return new Ingredient(kind.key() + "." + key, Ingredient.Group.FAULTS, twoSided, free);
  }

  /**
   * The fault at these shares.
   *
   * @param millis duration of the undisturbed trial: the range of the start, ms
   * @return empty where it lasts for less than 1 ms or is too weak to be one
   */
  static Optional<Injection> read(FaultKind kind, double[] shares, Limits limits, long millis) {
    int next = 1;
    long durationNs = Long.MAX_VALUE;
    if (FaultKinds.lasts(kind)) {
      durationNs = Math.round(shares[next++] * limits.faultMillis()) * NS_PER_MS;
    }
    double strength = kind.strength().usual();
    if (FaultKinds.isStrong(kind)) {
      strength = FaultKinds.strength(kind, limits.strength(kind), shares[next]);
    }
    boolean weak = !(strength >= kind.strength().least() && strength <= kind.strength().most());
    return durationNs <= 0 || weak
        ? Optional.empty()
        : Optional.of(
            new Injection(kind, Math.round(shares[0] * millis) * NS_PER_MS, durationNs, strength));
  }
}
