package org.stopwell.harness.trial;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.trace.FrameCodec;
import org.stopwell.rig.bench.FileCondition;
import org.stopwell.rig.bench.Truth;

/**
 * Reads a recorded trace, one step at a time; the fields hold the current step. It reads every
 * version of the frame layout so far.
 */
public final class TraceReader {
  /** The time given to the step, ns. */
  public long nowNs;

  /** The input of the step. */
  public final ControllerInput in = new ControllerInput();

  /** The output of the step. */
  public final ControllerOutput out = new ControllerOutput();

  /** The controller's hash after the step. */
  public long stateHash;

  /** The truth at the step. */
  public final Truth truth = new Truth();

  private final ByteBuffer rows;
  private final int frames;
  private final int rowBytes;
  private final int steps;

  /**
   * A reader before the first step.
   *
   * @param trace the bytes of a {@link TraceRecorder}
   * @throws IllegalArgumentException when they are not, or come from another layout
   */
  public TraceReader(byte[] trace) {
    rows = ByteBuffer.wrap(trace).order(ByteOrder.LITTLE_ENDIAN);
    if (trace.length < TraceRecorder.HEAD_BYTES || rows.getInt() != TraceRecorder.MAGIC) {
      throw new IllegalArgumentException("not a trace");
    }
    int version = rows.getInt();
    frames = rows.getInt();
    rowBytes = rows.getInt();
    if (version != TraceRecorder.VERSION
        || !(frames >= 1 && frames <= FrameCodec.VERSION)
        || rowBytes != TraceRecorder.rowBytes(frames)) {
      throw new IllegalArgumentException(
          "the trace has layout "
              + version
              + "."
              + frames
              + ", this build reads the layouts "
              + TraceRecorder.VERSION
              + ".1 to "
              + TraceRecorder.VERSION
              + "."
              + FrameCodec.VERSION);
    }
    if (rows.remaining() % rowBytes != 0) {
      throw new IllegalArgumentException("the trace ends in the middle of a step");
    }
    steps = rows.remaining() / rowBytes;
  }

  /**
   * Checks a trace that somebody else may have made: every step can be read, and time does not run
   * back.
   *
   * @param trace the bytes
   * @throws IllegalArgumentException with the first step that is wrong
   */
  public static void check(byte[] trace) {
    TraceReader reader = new TraceReader(trace);
    long before = 0;
    for (int step = 1; step <= reader.steps; step++) {
      boolean valid;
      try {
        valid = reader.next();
      } catch (IndexOutOfBoundsException e) {
        valid = false;
      }
      int frequencies = reader.in.frequencyCount;
      if (!valid || !(frequencies >= 0 && frequencies <= ControllerInput.MAX_FREQUENCIES)) {
        throw new IllegalArgumentException("step " + step + " holds a code that does not exist");
      }
      if (reader.nowNs < before) {
        throw new IllegalArgumentException(
            "step " + step + " is at " + reader.nowNs + " ns, before the step before it");
      }
      before = reader.nowNs;
    }
  }

  /**
   * How many steps were recorded.
   *
   * @return 0 or more
   */
  public int steps() {
    return steps;
  }

  /**
   * Goes to a time: the next step is the first at that time or later.
   *
   * @param fromNs the time, ns
   */
  public void seek(long fromNs) {
    int low = 0;
    int high = steps;
    while (low < high) {
      int middle = (low + high) >>> 1;
      if (rows.getLong(TraceRecorder.HEAD_BYTES + middle * rowBytes) < fromNs) {
        low = middle + 1;
      } else {
        high = middle;
      }
    }
    rows.position(TraceRecorder.HEAD_BYTES + low * rowBytes);
  }

  /**
   * Goes to the next step.
   *
   * @return false when there is none
   */
  public boolean next() {
    if (!rows.hasRemaining()) {
      return false;
    }
    nowNs = rows.getLong();
    FrameCodec.get(rows, in);
    FrameCodec.get(rows, out, frames);
    stateHash = rows.getLong();
    truth.timeNs = nowNs;
    truth.remainingMicrons = rows.getInt();
    truth.speedMilliRpm = rows.getInt();
    truth.torqueMicroNewtonMetres = rows.getInt();
    truth.fluidLevelMicrons = rows.getInt();
    int flags = rows.get();
    truth.chamberWet = (flags & 1) != 0;
    truth.stopLine = (flags & 2) != 0;
    truth.file = FileCondition.ofCode(flags >> 2);
    return true;
  }
}
