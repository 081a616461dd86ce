package org.stopwell.rig.wire;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.zip.CRC32C;

/** Turns bodies of any content into frames: CRC-32C, stuffing, closing zero. One per thread. */
public final class BodyWriter {
  private final byte[] body = new byte[FrameWriter.MAX_BODY_BYTES];
  private final ByteBuffer buffer = ByteBuffer.wrap(body);
  private final byte[] frame = new byte[FrameWriter.MAX_FRAME_BYTES];
  private final CRC32C crc = new CRC32C();

  /** A writer with its own buffers. */
  public BodyWriter() {}

  /**
   * An empty body to be filled.
   *
   * @return a reused buffer, little-endian, with room for the longest body and its CRC
   */
  public ByteBuffer body() {
    return buffer.clear().order(ByteOrder.LITTLE_ENDIAN);
  }

  /**
   * Makes a frame of what stands in the body up to its position.
   *
   * @return how many bytes of {@link #bytes()} are the frame
   */
  public int frame() {
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
