package org.stopwell.rig.time;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.concurrent.locks.LockSupport;

/** The machine's own clock. */
public final class MachineClock {
  private MachineClock() {}

  /**
   * Monotonic time.
   *
   * @return ns from an arbitrary zero
   */
  public static long nowNs() {
    return System.nanoTime();
  }

  /**
   * Time of day, for numbers that must differ from run to run.
   *
   * @return µs since 1970, UTC
   */
  public static long epochMicros() {
    return ChronoUnit.MICROS.between(Instant.EPOCH, Instant.now());
  }

  /**
   * Waits, or less when the thread is interrupted.
   *
   * @param ns how long, ns; nothing when it is 0 or less
   */
  public static void waitNs(long ns) {
    long end = System.nanoTime() + ns;
    for (long left = ns; left > 0 && !Thread.currentThread().isInterrupted(); ) {
      LockSupport.parkNanos(left);
      left = end - System.nanoTime();
    }
  }
}
