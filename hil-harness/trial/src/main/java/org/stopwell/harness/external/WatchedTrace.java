package org.stopwell.harness.external;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.stopwell.rig.device.Watched;

/**
 * The samples of a trial as bytes.
 *
 * <p>Layout, little-endian: a head of 16 bytes (the letters {@code SWDV}, layout version, bytes per
 * row, zero, 4 each), then one row per sample: time ns (8), angle m° (8), shank µm (4), force mN
 * (4), flags (1): marked 1, witnessed 2.
 */
public final class WatchedTrace {
  private static final int MAGIC = 'S' | 'W' << 8 | 'D' << 16 | 'V' << 24;
  private static final int VERSION = 1;
  private static final int HEAD_BYTES = 16;
  private static final int ROW_BYTES = 8 + 8 + 4 + 4 + 1;

  private ByteBuffer rows = ByteBuffer.allocate(HEAD_BYTES + 16_384 * ROW_BYTES);

  /** An empty trace. */
  public WatchedTrace() {
    clear();
  }

  /** Forgets everything. */
  public void clear() {
    rows.clear().order(ByteOrder.LITTLE_ENDIAN);
    rows.putInt(MAGIC).putInt(VERSION).putInt(ROW_BYTES).putInt(0);
  }

  /**
   * Adds samples.
   *
   * @param samples in the order of their times
   */
  public void addAll(List<Watched> samples) {
    for (Watched s : samples) {
      if (rows.remaining() < ROW_BYTES) {
        byte[] larger = Arrays.copyOf(rows.array(), Math.multiplyExact(rows.capacity(), 2));
        rows = ByteBuffer.wrap(larger).order(ByteOrder.LITTLE_ENDIAN).position(rows.position());
      }
      rows.putLong(s.timeNs()).putLong(s.angleMilliDegrees());
      rows.putInt(s.shankMicrons()).putInt(s.forceMilliNewtons());
      rows.put((byte) ((s.marked() ? 1 : 0) | (s.witnessed() ? 2 : 0)));
    }
  }

  /**
   * The trace so far.
   *
   * @return a copy of its bytes
   */
  public byte[] bytes() {
    return Arrays.copyOf(rows.array(), rows.position());
  }

  /**
   * Whether bytes are such a trace.
   *
   * @param bytes a trace
   * @return false for the trace of a controller
   */
  public static boolean isOne(byte[] bytes) {
    return bytes.length >= HEAD_BYTES
        && ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN).getInt() == MAGIC;
  }

  /**
   * Reads a trace.
   *
   * @param bytes as they were recorded
   * @return its samples
   * @throws IllegalArgumentException when it is none, or is cut short
   */
  public static List<Watched> read(byte[] bytes) {
    if (!isOne(bytes) || (bytes.length - HEAD_BYTES) % ROW_BYTES != 0) {
      throw new IllegalArgumentException("the samples of a device are damaged or cut short");
    }
    ByteBuffer from = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN).position(HEAD_BYTES);
    List<Watched> samples = new ArrayList<>();
    while (from.hasRemaining()) {
      long ns = from.getLong();
      long angle = from.getLong();
      int shank = from.getInt();
      int force = from.getInt();
      byte flags = from.get();
      samples.add(new Watched(ns, angle, shank, force, (flags & 1) != 0, (flags & 2) != 0));
    }
    return samples;
  }
}
