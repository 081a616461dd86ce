package org.stopwell.rig.wire;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.zip.CRC32C;

/**
 * Finds frames in a stream of bytes, with any bytes between them. It holds at most one frame, so a
 * flood cannot make it grow; after damage the next zero is a fresh start, so at most the damaged
 * frame and the one it ran into are lost.
 */
public final class FrameReader {
  private static final int MAX_STUFFED_BYTES = FrameWriter.MAX_FRAME_BYTES - 1;

  private final byte[] held = new byte[MAX_STUFFED_BYTES];
  private final ByteBuffer buffer = ByteBuffer.wrap(held);
  private final CRC32C crc = new CRC32C();
  private final Packet packet = new Packet();
  private int length;
  private boolean tooLong;
  private long good;
  private long badStuffing;
  private long badCrc;
  private long badBody;
  private long overlong;

  /**
   * What has arrived so far.
   *
   * @param good whole messages
   * @param badStuffing frames whose stuffing is wrong
   * @param badCrc frames whose CRC is wrong
   * @param badBody frames with a right CRC that are not a message of this version
   * @param overlong frames longer than any message can be
   */
  public record Counts(long good, long badStuffing, long badCrc, long badBody, long overlong) {
    /**
     * All frames that were thrown away.
     *
     * @return how many
     */
    public long bad() {
      return badStuffing + badCrc + badBody + overlong;
    }
  }

  /** A reader that waits for its first frame. */
  public FrameReader() {}

  /**
   * Takes one byte.
   *
   * @param b the byte
   * @return true when it closed a good frame, which is then in {@link #packet()}
   */
  public boolean take(byte b) {
    if (b != 0) {
      if (length == held.length) {
        tooLong = true;
      } else {
        held[length++] = b;
      }
      return false;
    }
    boolean opened = length > 0 && open();
    length = 0;
    tooLong = false;
    return opened;
  }

  /**
   * The newest good packet.
   *
   * @return a reused packet, overwritten by the frames to come
   */
  public Packet packet() {
    return packet;
  }

  /** Forgets a frame that has only half arrived. */
  public void forget() {
    length = 0;
    tooLong = false;
  }

  /**
   * What has arrived so far.
   *
   * @return the counts
   */
  public Counts counts() {
    return new Counts(good, badStuffing, badCrc, badBody, overlong);
  }

  private boolean open() {
    if (tooLong) {
      overlong++;
      return false;
    }
    int body = Cobs.decode(held, length, held) - FrameWriter.CRC_BYTES;
    if (body < 0) {
      badStuffing++;
      return false;
    }
    crc.reset();
    crc.update(held, 0, body);
    buffer.clear().order(ByteOrder.LITTLE_ENDIAN);
    if (buffer.getInt(body) != (int) crc.getValue()) {
      badCrc++;
      return false;
    }
    buffer.limit(body);
    if (!PacketCodec.read(buffer, packet)) {
      badBody++;
      return false;
    }
    good++;
    return true;
  }
}
