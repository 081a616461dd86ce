package org.stopwell.rig.wire;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.zip.CRC32C;

/** Turns packets into frames: body, CRC-32C, stuffing, closing zero. One per thread. */
public final class FrameWriter {
  /** The version of the protocol that this table describes. */
  public static final int PROTOCOL = 5;

  /** The most bytes of one frame on the wire, closing zero included. */
  public static final int MAX_FRAME_BYTES = 256;

  /** The most bytes of message and CRC, before stuffing. */
  static final int MAX_BODY_BYTES = MAX_FRAME_BYTES - 2;

  static final int CRC_BYTES = 4;

  private final byte[] body = new byte[MAX_BODY_BYTES];
  private final ByteBuffer buffer = ByteBuffer.wrap(body);
  private final byte[] frame = new byte[MAX_FRAME_BYTES];
  private final CRC32C crc = new CRC32C();

  /** A writer with its own buffers. */
  public FrameWriter() {}

  /**
   * Makes a frame.
   *
   * @param packet what to send
   * @return how many bytes of {@link #bytes()} are the frame
   */
  public int write(Packet packet) {
    buffer.clear();
    PacketCodec.write(packet, buffer);
    crc.reset();
    crc.update(body, 0, buffer.position());
    buffer.order(ByteOrder.LITTLE_ENDIAN).putInt((int) crc.getValue());
    int length = Cobs.encode(body, buffer.position(), frame);
    frame[length] = 0;
    return length + 1;
  }

  /**
   * Buffer of the newest frame.
   *
   * @return a reused array
   */
  public byte[] bytes() {
    return frame;
  }
}
