package org.stopwell.rig.time;

/** A moment on the machine's monotonic clock by which something must have happened. */
public final class Deadline {
  private final long endNs;

  private Deadline(long endNs) {
    this.endNs = endNs;
  }

  /**
   * A deadline from now on.
   *
   * @param ns how far away, ns
   * @return the deadline
   */
  public static Deadline in(long ns) {
    return new Deadline(System.nanoTime() + ns);
  }

  /**
   * How much time is left.
   *
   * @return ns, 0 once the deadline has passed
   */
  public long leftNs() {
    return Math.max(0, endNs - System.nanoTime());
  }

  /**
   * Whether the time is over.
   *
   * @return true once nothing is left
   */
  public boolean passed() {
    return leftNs() == 0;
  }
}
