package org.stopwell.harness.external;

import java.nio.BufferUnderflowException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.Optional;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.TipSeen;

/**
 * A trial of a device as it was watched: the samples, and what the rig noted. Recovery, attribution
 * and verdict follow from it and the plan alone.
 *
 * <p>As bytes, little-endian: the letters {@code SWDV}, layout version and number of samples (4
 * each); the notes of the rig; then five columns, each whole: time ns, angle m°, shank µm, force
 * mN, flags (marked 1, witnessed 2). A column holds differences, those of time and angle
 * differences of differences, as numbers of variable length: 7 bits a byte, low bits first, the
 * sign in bit 0.
 */
public final class WatchedTrace {
  private static final int MAGIC = 'S' | 'W' << 8 | 'D' << 16 | 'V' << 24;
  private static final int VERSION = 2;
  private static final int CIRCUIT_BYTES = 1 + 4 + 4;
  private static final int TIP_BYTES = 1 + 4 + 4;
  private static final int HEAD_BYTES = 12 + 2 * CIRCUIT_BYTES + 8 + 8 + 4 + 1 + TIP_BYTES;

  /** Columns, and the most bytes of a number of 64 bits. */
  private static final int COLUMNS = 5;

  private static final int LONGEST = 10;

  private static final TipSeen NO_TIP = new TipSeen(0, 0);

  private final WatchedTrack track;
  private final RigNotes notes;

  WatchedTrace(WatchedTrack track, RigNotes notes) {
    this.track = track;
    this.notes = notes;
  }

  WatchedTrack track() {
    return track;
  }

  RigNotes notes() {
    return notes;
  }

  WatchedTrace with(TipSeen tip) {
    return new WatchedTrace(track, notes.with(tip));
  }

  WatchedTrace with(NetworkAnswer answer) {
    return new WatchedTrace(track, notes.with(answer));
  }

  /**
   * The trial as bytes.
   *
   * @return about 8 bytes a sample, before they are packed
   */
  public byte[] bytes() {
    int n = track.count();
    ByteBuffer to =
        ByteBuffer.allocate(HEAD_BYTES + n * COLUMNS * LONGEST).order(ByteOrder.LITTLE_ENDIAN);
    to.putInt(MAGIC).putInt(VERSION).putInt(n);
    put(to, notes.before());
    put(to, notes.after());
    to.putLong(notes.hostNs()).putLong(notes.worstLatenessNs()).putInt(notes.carriageMicrons());
    to.put((byte) notes.answer().ordinal());
    TipSeen tip = notes.tip().orElse(NO_TIP);
    to.put((byte) (notes.tip().isPresent() ? 1 : 0));
    to.putInt(tip.microns()).putInt(tip.boundMicrons());
    for (int column = 0; column < COLUMNS; column++) {
      long last = 0;
      long step = 0;
      for (int i = 0; i < n; i++) {
        long now = track.value(column, i);
        long moved = now - last;
        putNumber(to, isEven(column) ? moved - step : moved);
        last = now;
        step = moved;
      }
    }
    return Arrays.copyOf(to.array(), to.position());
  }

  /** Whether a column grows evenly: time and angle. */
  private static boolean isEven(int column) {
    return column < 2;
  }

  private static void put(ByteBuffer to, CircuitCheck circuit) {
    to.put((byte) (circuit.closed() ? 1 : 0));
    to.putInt(circuit.leakKiloOhms()).putInt(circuit.strayPicoFarads());
  }

  private static CircuitCheck circuit(ByteBuffer from) {
    return new CircuitCheck(from.get() != 0, from.getInt(), from.getInt());
  }

  private static void putNumber(ByteBuffer to, long value) {
    long rest = value << 1 ^ value >> 63;
    while ((rest & ~0x7FL) != 0) {
      to.put((byte) ((rest & 0x7F) | 0x80));
      rest >>>= 7;
    }
    to.put((byte) rest);
  }

  private static long number(ByteBuffer from) {
    long bits = 0;
    for (int shift = 0; shift < 7 * LONGEST; shift += 7) {
      byte next = from.get();
      bits |= (next & 0x7FL) << shift;
      if (next >= 0) {
        return bits >>> 1 ^ -(bits & 1);
      }
    }
    throw damaged();
  }

  private static IllegalArgumentException damaged() {
    return new IllegalArgumentException("the samples of a device are damaged or cut short");
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
   * @return the trial
   * @throws IllegalArgumentException when it is none, or is cut short
   */
  public static WatchedTrace read(byte[] bytes) {
    ByteBuffer from = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
    try {
      if (from.getInt() != MAGIC || from.getInt() != VERSION) {
        throw damaged();
      }
      int n = from.getInt();
      RigNotes notes =
          new RigNotes(
              circuit(from),
              circuit(from),
              from.getLong(),
              from.getLong(),
              from.getInt(),
              answer(from.get()),
              tip(from));
      if (!(n >= 0 && n <= from.remaining() / COLUMNS)) {
        throw damaged();
      }
      long[][] columns = new long[COLUMNS][n];
      for (int column = 0; column < COLUMNS; column++) {
        long last = 0;
        long step = 0;
        for (int i = 0; i < n; i++) {
          long read = number(from);
          step = isEven(column) ? step + read : read;
          last += step;
          columns[column][i] = last;
        }
      }
      if (from.hasRemaining()) {
        throw damaged();
      }
      return new WatchedTrace(WatchedTrack.of(columns, n), notes);
    } catch (BufferUnderflowException e) {
      throw damaged();
    }
  }

  private static Optional<TipSeen> tip(ByteBuffer from) {
    boolean seen = from.get() != 0;
    TipSeen tip = new TipSeen(from.getInt(), from.getInt());
    return seen ? Optional.of(tip) : Optional.empty();
  }

  private static NetworkAnswer answer(byte at) {
    if (!(at >= 0 && at < NetworkAnswer.values().length)) {
      throw damaged();
    }
    return NetworkAnswer.values()[at];
  }
}
