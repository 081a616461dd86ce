package org.stopwell.harness.trial;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.Arrays;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.trace.FrameCodec;
import org.stopwell.rig.bench.Truth;

/**
 * Records exactly what every step consumed and gave, what was really so, and the controller's state
 * hash after it. The bytes replay bit for bit.
 *
 * <p>Layout, little-endian: a head of 16 bytes (the letters {@code SWTR}, layout version, version
 * of the frame layout, bytes per row, 4 each), then one row per step: time ns (8), input frame,
 * output frame, state hash (8), true remaining distance µm (4), true speed milli-rpm (4), true
 * torque µN·m (4), fluid level µm (4), flags (1): chamber wet 1, stop line 2, condition of the file
 * times 4.
 */
public final class TraceRecorder {
  /** First four bytes of a trace. */
  static final int MAGIC = 'S' | 'W' << 8 | 'T' << 16 | 'R' << 24;

  /** Changes with every change of the layout. */
  static final int VERSION = 1;

  /** Bytes before the first row. */
  static final int HEAD_BYTES = 16;

  /** Bytes of one step. */
  static final int ROW_BYTES = rowBytes(FrameCodec.VERSION);

  private ByteBuffer rows = ByteBuffer.allocate(HEAD_BYTES + 1024 * ROW_BYTES);

  /** Bytes of one step with a version of the frame layout. */
  static int rowBytes(int frames) {
    return 8 + FrameCodec.INPUT_BYTES + FrameCodec.outputBytes(frames) + 8 + 4 * 4 + 1;
  }

  /** An empty trace. */
  public TraceRecorder() {
    clear();
  }

  /** Forgets everything recorded. */
  public void clear() {
    rows.clear().order(ByteOrder.LITTLE_ENDIAN);
    rows.putInt(MAGIC).putInt(VERSION).putInt(FrameCodec.VERSION).putInt(ROW_BYTES);
  }

  /**
   * Records one step.
   *
   * @param nowNs the time given to the step, ns
   * @param in what it consumed
   * @param out what it gave
   * @param stateHash the controller's hash after it
   * @param truth what was really so
   */
  public void add(
      long nowNs, ControllerInput in, ControllerOutput out, long stateHash, Truth truth) {
    if (rows.remaining() < ROW_BYTES) {
      byte[] larger = Arrays.copyOf(rows.array(), Math.multiplyExact(rows.capacity(), 2));
      rows = ByteBuffer.wrap(larger).order(ByteOrder.LITTLE_ENDIAN).position(rows.position());
    }
    rows.putLong(nowNs);
    FrameCodec.put(in, rows);
    FrameCodec.put(out, rows);
    rows.putLong(stateHash);
    rows.putInt(truth.remainingMicrons).putInt(truth.speedMilliRpm);
    rows.putInt(truth.torqueMicroNewtonMetres).putInt(truth.fluidLevelMicrons);
    int flags = (truth.chamberWet ? 1 : 0) | (truth.stopLine ? 2 : 0) | truth.file.ordinal() << 2;
    rows.put((byte) flags);
  }

  /**
   * The trace so far.
   *
   * @return a copy of its bytes
   */
  public byte[] bytes() {
    return Arrays.copyOf(rows.array(), rows.position());
  }
}
