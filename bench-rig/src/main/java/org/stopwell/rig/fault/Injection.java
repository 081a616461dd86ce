package org.stopwell.rig.fault;

/**
 * One fault: what, when, how long, how strong.
 *
 * @param kind what goes wrong
 * @param since from when the start counts
 * @param startNs from when on, ns
 * @param durationNs how long, ns
 * @param strength how strong, in what {@link FaultKind#strength()} says
 */
public record Injection(
    FaultKind kind, Since since, long startNs, long durationNs, double strength) {
  /** From when a start counts. */
  public enum Since {
    /** From the mount. */
    MOUNT,
    /** From the first command to turn. */
    TURN
  }

  /** Checks the times and the strength. */
  public Injection {
    FaultKind.Strength limits = kind.strength();
    if (!(startNs >= 0 && durationNs > 0)
        || !(strength >= limits.least() && strength <= limits.most())) {
      throw new IllegalArgumentException(
          kind
              + " from "
              + startNs
              + " ns for "
              + durationNs
              + " ns, strength "
              + strength
              + ": must be 0 or later, longer than 0, "
              + limits.least()
              + " to "
              + limits.most()
              + " "
              + limits.meaning());
    }
  }

  /**
   * A fault whose start counts from the mount.
   *
   * @param kind what goes wrong
   * @param startNs from when on, ns
   * @param durationNs how long, ns
   * @param strength how strong
   */
  public Injection(FaultKind kind, long startNs, long durationNs, double strength) {
    this(kind, Since.MOUNT, startNs, durationNs, strength);
  }

  /**
   * When it begins.
   *
   * @param firstTurnNs time of the first command to turn, ns; the greatest long while it was not
   * @return time since the mount, ns; the greatest long while that is not known
   */
  public long onsetNs(long firstTurnNs) {
    if (since == Since.MOUNT) {
      return startNs;
    }
    return firstTurnNs > Long.MAX_VALUE - startNs ? Long.MAX_VALUE : firstTurnNs + startNs;
  }

  /**
   * Whether it is so at a time.
   *
   * @param nowNs time since the mount, ns
   * @param firstTurnNs time of the first command to turn, ns; the greatest long while it was not
   * @return true from the start until the end
   */
  public boolean holdsAt(long nowNs, long firstTurnNs) {
    long onset = onsetNs(firstTurnNs);
    return nowNs >= onset && nowNs - onset < durationNs;
  }
}
