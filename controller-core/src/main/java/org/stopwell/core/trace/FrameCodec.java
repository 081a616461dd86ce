package org.stopwell.core.trace;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;

/**
 * Frames as bytes of a fixed layout, little-endian: run files, replay and golden vectors hold them.
 *
 * <p>Input: sample sequence (8), sample time ns (8), link age ns (8), four times frequency Hz, real
 * mΩ, imaginary mΩ (4 each), distance µm (4), insertion µm (4), speed milli-rpm (4), torque µN·m
 * (4), current mA (4), supply mV (4), position kind (1), frequency count (1), stage (1), flags (1):
 * railed 1, demand 2, stop line 4, reset 8, insertion present 16.
 *
 * <p>Output: speed milli-rpm (4), torque limit µN·m (4), remaining µm (4), drive (1), state (1),
 * trust (1), cause (1), reason (1), reading present (1), bound µm (4; not in version 1).
 */
public final class FrameCodec {
  /** Changes with every change of the layout. */
  public static final int VERSION = 2;

  /** Bytes of an input frame. */
  public static final int INPUT_BYTES = 100;

  /** Bytes of an output frame. */
  public static final int OUTPUT_BYTES = 22;

  private static final int BOUND_BYTES = 4;

  private static final int RAILED = 1;
  private static final int DEMAND = 2;
  private static final int STOP_LINE = 4;
  private static final int RESET = 8;
  private static final int INSERTION = 16;

  /** A count that no frame has: an implausible count stays implausible. */
  private static final int NO_COUNT = -1;

  private FrameCodec() {}

  /**
   * Writes an input frame with any content. One without a kind or a stage, or with a count that
   * does not fit into its byte, is written with the count −1: replay refuses it as the step did.
   *
   * @param in the frame
   * @param to receives {@link #INPUT_BYTES} at its position; its byte order becomes little-endian
   */
  public static void put(ControllerInput in, ByteBuffer to) {
    to.order(ByteOrder.LITTLE_ENDIAN);
    to.putLong(in.sampleSequence).putLong(in.sampleTimeNs).putLong(in.linkAgeNs);
    for (int i = 0; i < ControllerInput.MAX_FREQUENCIES; i++) {
      to.putLong(two(in.frequencyHz[i], in.zRealMilliOhms[i])).putInt(in.zImagMilliOhms[i]);
    }
    to.putLong(two(in.distanceMicrons, in.insertionMicrons));
    to.putLong(two(in.speedMilliRpm, in.torqueMicroNewtonMetres));
    to.putLong(two(in.currentMilliAmps, in.supplyMilliVolts));
    int flags =
        (in.railed ? RAILED : 0)
            | (in.demand ? DEMAND : 0)
            | (in.stopLine ? STOP_LINE : 0)
            | (in.reset ? RESET : 0)
            | (in.insertionPresent ? INSERTION : 0);
    int kind = in.positionKind == null ? NO_COUNT : in.positionKind.code();
    int stage = in.stage == null ? NO_COUNT : in.stage.code();
    int count = (kind | stage) < 0 ? NO_COUNT : in.frequencyCount;
    to.putInt(four(kind, count == (byte) count ? count : NO_COUNT, stage, flags));
  }

  /** Two numbers of four bytes, the first lowest: one write is faster than two. */
  private static long two(int first, int next) {
    return ((long) next << 32) | (first & 0xffff_ffffL);
  }

  /** Four bytes, the first lowest. */
  private static int four(int first, int second, int third, int last) {
    return (first & 0xff) | ((second & 0xff) << 8) | ((third & 0xff) << 16) | (last << 24);
  }

  /**
   * Reads an input frame.
   *
   * @param from holds {@link #INPUT_BYTES} at its position; its byte order becomes little-endian
   * @param in overwritten
   */
  public static void get(ByteBuffer from, ControllerInput in) {
    from.order(ByteOrder.LITTLE_ENDIAN);
    in.sampleSequence = from.getLong();
    in.sampleTimeNs = from.getLong();
    in.linkAgeNs = from.getLong();
    for (int i = 0; i < ControllerInput.MAX_FREQUENCIES; i++) {
      in.frequencyHz[i] = from.getInt();
      in.zRealMilliOhms[i] = from.getInt();
      in.zImagMilliOhms[i] = from.getInt();
    }
    in.distanceMicrons = from.getInt();
    in.insertionMicrons = from.getInt();
    in.speedMilliRpm = from.getInt();
    in.torqueMicroNewtonMetres = from.getInt();
    in.currentMilliAmps = from.getInt();
    in.supplyMilliVolts = from.getInt();
    in.positionKind = PositionKind.ofCode(from.get());
    in.frequencyCount = from.get();
    in.stage = Stage.ofCode(from.get());
    int flags = from.get();
    in.railed = (flags & RAILED) != 0;
    in.demand = (flags & DEMAND) != 0;
    in.stopLine = (flags & STOP_LINE) != 0;
    in.reset = (flags & RESET) != 0;
    in.insertionPresent = (flags & INSERTION) != 0;
  }

  /**
   * Writes an output frame.
   *
   * @param out the frame
   * @param to receives {@link #OUTPUT_BYTES} at its position; its byte order becomes little-endian
   */
  public static void put(ControllerOutput out, ByteBuffer to) {
    to.order(ByteOrder.LITTLE_ENDIAN);
    to.putLong(two(out.speedMilliRpm, out.torqueLimitMicroNewtonMetres));
    to.putInt(out.remainingMicrons);
    to.putInt(four(out.drive.code(), out.state.code(), out.trust.code(), out.cause.code()));
    to.put((byte) out.reason.code()).put((byte) (out.readingPresent ? 1 : 0));
    to.putInt(out.boundMicrons);
  }

  /**
   * Bytes of an output frame in a version of the layout.
   *
   * @param version 1 to {@link #VERSION}
   * @return the bytes
   */
  public static int outputBytes(int version) {
    return version == 1 ? OUTPUT_BYTES - BOUND_BYTES : OUTPUT_BYTES;
  }

  /**
   * Reads an output frame.
   *
   * @param from holds {@link #OUTPUT_BYTES} at its position; its byte order becomes little-endian
   * @param out overwritten
   */
  public static void get(ByteBuffer from, ControllerOutput out) {
    get(from, out, VERSION);
  }

  /**
   * Reads an output frame of a version of the layout. Version 1 states no bound.
   *
   * @param from holds {@link #outputBytes} at its position; its byte order becomes little-endian
   * @param out overwritten
   * @param version 1 to {@link #VERSION}
   */
  public static void get(ByteBuffer from, ControllerOutput out, int version) {
    from.order(ByteOrder.LITTLE_ENDIAN);
    out.speedMilliRpm = from.getInt();
    out.torqueLimitMicroNewtonMetres = from.getInt();
    out.remainingMicrons = from.getInt();
    out.drive = Drive.ofCode(from.get());
    out.state = State.ofCode(from.get());
    out.trust = Trust.ofCode(from.get());
    out.cause = Cause.ofCode(from.get());
    out.reason = Reason.ofCode(from.get());
    out.readingPresent = from.get() != 0;
    out.boundMicrons = version == 1 ? 0 : from.getInt();
  }
}
