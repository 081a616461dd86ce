package org.stopwell.rig.wire;

/**
 * Finds frames in a stream of bytes, with any bytes between them. It holds at most one frame, so a
 * flood cannot make it grow; after damage the next zero is a fresh start, so at most the damaged
 * frame and the one it ran into are lost.
 */
public final class FrameReader {
  private final BodyReader bodies = new BodyReader();
  private final Packet packet = new Packet();
  private long good;
  private long badBody;

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
    if (!bodies.take(b)) {
      return false;
    }
    if (!PacketCodec.read(bodies.body(), packet)) {
      badBody++;
      return false;
    }
    good++;
    return true;
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
    bodies.forget();
  }

  /**
   * What has arrived so far.
   *
   * @return the counts
   */
  public Counts counts() {
    return new Counts(good, bodies.badStuffing(), bodies.badCrc(), badBody, bodies.overlong());
  }
}
