package org.stopwell.harness.console;

import java.io.IOException;
import java.util.concurrent.locks.ReentrantLock;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.time.MachineClock;

/**
 * What many ask for and one makes. Whoever comes while it is fresh, or while another makes it anew,
 * gets what is there.
 *
 * @param <T> what is shared
 */
final class Shared<T> {
  private final long freshNs;
  private final Maker<T> maker;
  private final ReentrantLock making = new ReentrantLock();
  private volatile @Nullable Made<T> made;

  /** Makes it, and may read files for it. */
  @FunctionalInterface
  interface Maker<T> {
    T make() throws IOException;
  }

  private record Made<T>(T value, long untilNs) {
    boolean isFresh() {
      return MachineClock.nowNs() - untilNs < 0;
    }
  }

  Shared(long freshNs, Maker<T> maker) {
    this.freshNs = freshNs;
    this.maker = maker;
  }

  T get() throws IOException {
    Made<T> there = made;
    if (there != null && (there.isFresh() || making.isLocked())) {
      return there.value;
    }
    making.lock();
    try {
      there = made;
      if (there == null || !there.isFresh()) {
        T value = maker.make();
        there = new Made<>(value, MachineClock.nowNs() + freshNs);
        made = there;
      }
      return there.value;
    } finally {
      making.unlock();
    }
  }

  /** What is there is old: the next one who asks waits for a new one. */
  void forget() {
    made = null;
  }
}
