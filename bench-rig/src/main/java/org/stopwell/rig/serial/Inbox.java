package org.stopwell.rig.serial;

import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import org.stopwell.rig.time.Deadline;

/**
 * Bytes between the thread that reads a port and the one that wants them. It never grows: a device
 * that babbles loses what does not fit.
 */
final class Inbox {
  private final byte[] ring;
  private final ReentrantLock lock = new ReentrantLock();
  private final Condition changed = lock.newCondition();
  private int first;
  private int size;
  private long dropped;
  private boolean ended;

  Inbox(int capacity) {
    ring = new byte[capacity];
  }

  void put(byte[] bytes, int length) {
    lock.lock();
    try {
      int kept = Math.min(length, ring.length - size);
      for (int i = 0; i < kept; i++) {
        ring[(first + size + i) % ring.length] = bytes[i];
      }
      size += kept;
      dropped += length - kept;
      changed.signalAll();
    } finally {
      lock.unlock();
    }
  }

  /** Nothing more will come: whoever waits is woken. */
  void end() {
    lock.lock();
    try {
      ended = true;
      changed.signalAll();
    } finally {
      lock.unlock();
    }
  }

  /** Bytes taken; 0 when the time is over; -1 when nothing is left and nothing will come. */
  int take(byte[] into, Deadline deadline) throws InterruptedException {
    lock.lock();
    try {
      while (size == 0 && !ended) {
        long leftNs = deadline.leftNs();
        if (leftNs == 0 || changed.awaitNanos(leftNs) < 0) {
          break;
        }
      }
      int taken = Math.min(size, into.length);
      for (int i = 0; i < taken; i++) {
        into[i] = ring[(first + i) % ring.length];
      }
      first = (first + taken) % ring.length;
      size -= taken;
      return taken == 0 && ended ? -1 : taken;
    } finally {
      lock.unlock();
    }
  }

  void clear() {
    lock.lock();
    try {
      size = 0;
    } finally {
      lock.unlock();
    }
  }

  long dropped() {
    lock.lock();
    try {
      return dropped;
    } finally {
      lock.unlock();
    }
  }
}
