package org.stopwell.rig.time;

/** Where a loop gets its time from: a bench's own time line, or a clock. */
public interface Pace {
  /**
   * Ends this period and begins the next.
   *
   * @return the time of the new step, ns, on a line that starts at 0 and never goes back
   */
  long next();

  /**
   * How late the newest step began, ns; 0 on a time line of the bench's own.
   *
   * @return lateness, never negative
   */
  long latenessNs();

  /**
   * A time line that is exactly one period further at each step and waits for nothing.
   *
   * @param periodNs the period, ns
   * @return a pace for benches in lockstep
   */
  static Pace lockstep(long periodNs) {
    return new Pace() {
      private long nowNs = -periodNs;

      @Override
      public long next() {
        nowNs += periodNs;
        return nowNs;
      }

      @Override
      public long latenessNs() {
        return 0;
      }
    };
  }

  /**
   * A time line that follows the machine's monotonic clock. Deadlines are absolute: a late step
   * does not move those after it.
   *
   * @param periodNs the period, ns
   * @return a pace for physical benches, or to show a virtual bench in real time
   */
  static Pace realTime(long periodNs) {
    return new RealTimePace(periodNs);
  }
}
