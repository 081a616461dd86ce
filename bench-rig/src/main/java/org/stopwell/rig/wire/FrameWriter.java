package org.stopwell.rig.wire;

/** Turns packets into frames: body, CRC-32C, stuffing, closing zero. One per thread. */
public final class FrameWriter {
  /** The version of the protocol that this table describes. */
  public static final int PROTOCOL = 6;

  /** The oldest version of a board that works: later ones only added messages. */
  public static final int OLDEST_PROTOCOL = 5;

  /** The most bytes of one frame on the wire, closing zero included. */
  public static final int MAX_FRAME_BYTES = 256;

  /** The most bytes of message and CRC, before stuffing. */
  static final int MAX_BODY_BYTES = MAX_FRAME_BYTES - 2;

  static final int CRC_BYTES = 4;

  private final BodyWriter bodies = new BodyWriter();

  /** A writer with its own buffers. */
  public FrameWriter() {}

  /**
   * Makes a frame.
   *
   * @param packet what to send
   * @return how many bytes of {@link #bytes()} are the frame
   */
  public int write(Packet packet) {
    PacketCodec.write(packet, bodies.body());
    return bodies.frame();
  }

  /**
   * Buffer of the newest frame.
   *
   * @return a reused array
   */
  public byte[] bytes() {
    return bodies.bytes();
  }
}
