package org.stopwell.rig.time;

import java.util.function.LongSupplier;

/** A moment on a monotonic clock by which something must have happened. */
public final class Deadline {
  private final LongSupplier clock;
  private final long endNs;

  private Deadline(LongSupplier clock, long endNs) {
    this.clock = clock;
    this.endNs = endNs;
  }

  /**
   * A deadline from now on, by the machine's clock.
   *
   * @param ns how far away, ns
   * @return the deadline
   */
  public static Deadline in(long ns) {
    return in(ns, System::nanoTime);
  }

  /**
   * A deadline from now on, by another clock.
   *
   * @param ns how far away, ns
   * @param clock a monotonic time, ns
   * @return the deadline
   */
  public static Deadline in(long ns, LongSupplier clock) {
    return new Deadline(clock, clock.getAsLong() + ns);
  }

  /**
   * How much time is left.
   *
   * @return ns, 0 once the deadline has passed
   */
  public long leftNs() {
    return Math.max(0, endNs - clock.getAsLong());
  }

  /**
   * How long the deadline has passed.
   *
   * @return ns, 0 while time is left
   */
  public long overdueNs() {
    return Math.max(0, clock.getAsLong() - endNs);
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
