package org.stopwell.rig.board;

import java.util.function.LongSupplier;

/** Where a board gets its time from. */
interface BoardTime {
  /** A new trial: time is 0 until the first exchange. */
  void restart();

  /** Board time of an exchange that the host calls nowNs, ns since the mount. */
  long atExchange(long nowNs);

  /** Board time now, between exchanges. */
  long now();

  /** Time that advances only with the exchanges. */
  static BoardTime lockstep() {
    return new BoardTime() {
      private long latestNs;

      @Override
      public void restart() {
        latestNs = 0;
      }

      @Override
      public long atExchange(long nowNs) {
        latestNs = nowNs;
        return nowNs;
      }

      @Override
      public long now() {
        return latestNs;
      }
    };
  }

  /**
   * The board's own clock. The first exchange after a mount sets it to the host's time.
   *
   * @param clockNs time of the machine, ns from an arbitrary zero
   */
  static BoardTime clock(LongSupplier clockNs) {
    return new BoardTime() {
      private long zeroNs;
      private boolean running;

      @Override
      public void restart() {
        running = false;
      }

      @Override
      public long atExchange(long nowNs) {
        if (!running) {
          running = true;
          zeroNs = clockNs.getAsLong() - nowNs;
        }
        return now();
      }

      @Override
      public long now() {
        return running ? clockNs.getAsLong() - zeroNs : 0;
      }
    };
  }
}
