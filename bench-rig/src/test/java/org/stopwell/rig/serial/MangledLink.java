package org.stopwell.rig.serial;

import java.util.Arrays;
import java.util.function.IntSupplier;
import java.util.function.UnaryOperator;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.wire.FrameWriter;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;

/** A link that does to frames what a bad cable does. */
final class MangledLink implements Link {
  private final Link link;
  private UnaryOperator<byte[]> out = bytes -> bytes;
  private UnaryOperator<byte[]> in = bytes -> bytes;
  private IntSupplier piece = () -> Integer.MAX_VALUE;
  private byte[] waiting = new byte[0];

  MangledLink(Link link) {
    this.link = link;
  }

  /** Changes everything that is sent from now on. */
  void mangleSent(UnaryOperator<byte[]> change) {
    out = change;
  }

  /** Changes everything that arrives from now on. */
  void mangleReceived(UnaryOperator<byte[]> change) {
    in = change;
  }

  /** Hands out what arrives in pieces of so many bytes from now on. */
  void readInPiecesOf(IntSupplier bytes) {
    piece = bytes;
  }

  /** Opens a session as another host would. */
  void sendAsStranger() throws BenchException {
    FrameWriter writer = new FrameWriter();
    Packet hello = new Packet().begin(Message.HELLO, 0x5EED, 1).set(0, FrameWriter.PROTOCOL);
    int length = writer.write(hello);
    link.write(writer.bytes(), length);
  }

  @Override
  public String name() {
    return link.name();
  }

  @Override
  public void open() throws BenchException {
    link.open();
  }

  @Override
  public void write(byte[] bytes, int length) throws BenchException {
    byte[] changed = out.apply(Arrays.copyOf(bytes, length));
    link.write(changed, changed.length);
  }

  @Override
  public int read(byte[] into, Deadline deadline) throws BenchException {
    if (waiting.length == 0) {
      byte[] chunk = new byte[into.length];
      int length = link.read(chunk, deadline);
      waiting = in.apply(Arrays.copyOf(chunk, length));
    }
    int given = Math.min(piece.getAsInt(), Math.min(into.length, waiting.length));
    System.arraycopy(waiting, 0, into, 0, given);
    waiting = Arrays.copyOfRange(waiting, given, waiting.length);
    return given;
  }

  @Override
  public void forgetInput() {
    link.forgetInput();
    waiting = new byte[0];
  }

  @Override
  public void close() {
    link.close();
  }
}
