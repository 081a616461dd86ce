package org.stopwell.harness.breaking;

import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.stopwell.rig.fault.FaultKind;

/** Which faults are searched, and what a share of their strength is. */
public final class FaultKinds {
  /** Their exchange fails at once, which ends the trial. */
  private static final Set<FaultKind> ENDING =
      EnumSet.of(
          FaultKind.PORT_GONE,
          FaultKind.NO_ANSWER,
          FaultKind.SESSION_LOST,
          FaultKind.BAD_FRAMES,
          FaultKind.WATCHDOG,
          FaultKind.MOUNT_REFUSED,
          FaultKind.BAD_TRUTH);

  /** Kinds without effect below their limit: they are there or not. */
  private static final Set<FaultKind> PLAIN =
      EnumSet.of(FaultKind.SHORT_CIRCUIT, FaultKind.LOW_SUPPLY);

  /** Digits of a strength in a plan. */
  private static final double STRENGTH_STEPS = 1e6;

  private FaultKinds() {}

  /**
   * Kinds that can be searched: those that act on the controller and neither end the trial at once
   * nor change the true distance.
   *
   * @return in the order of the faults page
   */
  public static List<FaultKind> possible() {
    return Arrays.stream(FaultKind.values())
        .filter(k -> k.ofController() && !ENDING.contains(k))
        .toList();
  }

  /**
   * Kinds that are searched unless others are named: the possible ones without {@code runs_on},
   * which no software can correct.
   *
   * @return in the order of the faults page
   */
  public static List<FaultKind> usual() {
    return possible().stream().filter(k -> k != FaultKind.RUNS_ON).toList();
  }

  /** Kinds whose strength is searched. */
  static List<FaultKind> strong() {
    return possible().stream()
        .filter(k -> !k.strength().meaning().isEmpty() && !PLAIN.contains(k))
        .toList();
  }

  static boolean isStrong(FaultKind kind) {
    return strong().contains(kind);
  }

  /** A stall has its length as its strength. */
  static boolean lasts(FaultKind kind) {
    return kind != FaultKind.HOST_STALL;
  }

  /** Whether the strength has two directions. */
  static boolean isTwoSided(FaultKind kind) {
    return kind == FaultKind.JUMP || kind == FaultKind.DRIFT;
  }

  /**
   * The strength at a share of its limit; at share 0 the fault has no effect.
   *
   * @return rounded as in a plan; outside of the limits of the kind where the fault is too weak to
   *     be one
   */
  static double strength(FaultKind kind, double limit, double share) {
    double strength =
        switch (kind) {
          case JUMP -> StrictMath.exp(share * StrictMath.log(limit));
          case OVERSPEED -> 1 + share * (limit - 1);
          default -> share * limit;
        };
    return Math.rint(strength * STRENGTH_STEPS) / STRENGTH_STEPS;
  }
}
