package org.stopwell.rig.wire;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.zip.CRC32C;

/** Finds undamaged bodies in a stream of bytes: stuffing and CRC undone, content unread. */
public final class BodyReader {
  private static final int MAX_STUFFED_BYTES = FrameWriter.MAX_FRAME_BYTES - 1;

  private final byte[] held = new byte[MAX_STUFFED_BYTES];
  private final ByteBuffer buffer = ByteBuffer.wrap(held);
  private final CRC32C crc = new CRC32C();
  private int length;
  private boolean tooLong;
  private long badStuffing;
  private long badCrc;
  private long overlong;

  /** A reader that waits for its first frame. */
  public BodyReader() {}

  /**
   * Takes one byte.
   *
   * @param b the byte
   * @return true when it closed an undamaged frame, whose body is then in {@link #body()}
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
   * The newest undamaged body, without its CRC.
   *
   * @return a reused buffer, little-endian, from its position to its limit
   */
  public ByteBuffer body() {
    return buffer;
  }

  /** Forgets a frame that has only half arrived. */
  public void forget() {
    length = 0;
    tooLong = false;
  }

  /**
   * All frames that were thrown away.
   *
   * @return how many
   */
  public long bad() {
    return badStuffing + badCrc + overlong;
  }

  long badStuffing() {
    return badStuffing;
  }

  long badCrc() {
    return badCrc;
  }

  long overlong() {
    return overlong;
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
    return true;
  }
}
