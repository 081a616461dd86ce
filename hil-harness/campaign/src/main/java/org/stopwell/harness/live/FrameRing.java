package org.stopwell.harness.live;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;

/**
 * The newest frames, from one writing thread to one reading thread without a lock: the writer never
 * waits, and the reader drops what was overwritten meanwhile.
 */
final class FrameRing {
  private static final VarHandle WRITTEN;

  static {
    try {
      WRITTEN = MethodHandles.lookup().findVarHandle(FrameRing.class, "written", long.class);
    } catch (ReflectiveOperationException e) {
      throw new ExceptionInInitializerError(e);
    }
  }

  private final int[] slots = new int[LiveFile.FRAMES_KEPT * LiveFile.FRAME_INTS];

  @SuppressWarnings("UnusedVariable") // Written through the handle.
  private volatile long written;

  /** Where the writer may put the next frame. */
  int place() {
    return place((long) WRITTEN.get(this));
  }

  int[] slots() {
    return slots;
  }

  /** The writer has put the next frame at its place. */
  void added() {
    WRITTEN.setRelease(this, (long) WRITTEN.get(this) + 1);
    VarHandle.storeStoreFence();
  }

  long written() {
    return (long) WRITTEN.getAcquire(this);
  }

  /**
   * Copies a frame.
   *
   * @param number of the frame
   * @param into receives {@link LiveFile#FRAME_INTS} numbers
   * @return false when it may have been overwritten meanwhile
   */
  boolean copy(long number, int[] into) {
    System.arraycopy(slots, place(number), into, 0, LiveFile.FRAME_INTS);
    VarHandle.loadLoadFence();
    return number > (long) WRITTEN.getOpaque(this) - LiveFile.FRAMES_KEPT + 2;
  }

  private static int place(long number) {
    return (int) (number & (LiveFile.FRAMES_KEPT - 1)) * LiveFile.FRAME_INTS;
  }
}
