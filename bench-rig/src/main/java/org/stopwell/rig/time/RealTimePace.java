package org.stopwell.rig.time;

import java.util.concurrent.locks.LockSupport;

/**
 * A time line that follows the machine's monotonic clock. Every step has an absolute deadline, so
 * one late step does not move those after it; a step that comes a whole period late is taken at
 * once, and its lateness is reported.
 */
final class RealTimePace implements Pace {
  /** The scheduler wakes a thread late by about this much; the rest is spent spinning. */
  private static final long SPIN_NS = 100_000;

  private final long periodNs;
  private final long startNs;
  private long steps;
  private long latenessNs;

  RealTimePace(long periodNs) {
    this.periodNs = periodNs;
    this.startNs = System.nanoTime();
  }

  @Override
  public long next() {
    long deadlineNs = steps++ * periodNs;
    long nowNs = elapsedNs();
    while (nowNs < deadlineNs) {
      if (deadlineNs - nowNs > SPIN_NS) {
        LockSupport.parkNanos(deadlineNs - nowNs - SPIN_NS);
      } else {
        Thread.onSpinWait();
      }
      nowNs = elapsedNs();
    }
    latenessNs = nowNs - deadlineNs;
    return nowNs;
  }

  @Override
  public long latenessNs() {
    return latenessNs;
  }

  private long elapsedNs() {
    return System.nanoTime() - startNs;
  }
}
