package org.stopwell.rig.fault;

/**
 * One fault: what, when, how long, how strong.
 *
 * @param kind what goes wrong
 * @param startNs from when on, time since the mount, ns
 * @param durationNs how long, ns
 * @param strength how strong, in what {@link FaultKind#strength()} says
 */
public record Injection(FaultKind kind, long startNs, long durationNs, double strength) {
  /** Checks the times and the strength. */
  public Injection {
    if (!(startNs >= 0 && durationNs > 0 && Double.isFinite(strength))) {
      throw new IllegalArgumentException(
          kind
              + " from "
              + startNs
              + " ns for "
              + durationNs
              + " ns, strength "
              + strength
              + ": must be 0 or later, longer than 0, finite");
    }
  }

  /**
   * Whether it is so at a time.
   *
   * @param nowNs time since the mount, ns
   * @return true from the start until the end
   */
  public boolean holdsAt(long nowNs) {
    return nowNs >= startNs && nowNs - startNs < durationNs;
  }
}
