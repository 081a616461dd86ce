package org.stopwell.harness.chip;

import java.nio.ByteBuffer;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.serial.SerialLink;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.wire.BodyReader;
import org.stopwell.rig.wire.BodyWriter;

/** Requests of any content to a board under test, by the bytes of docs/firmware.md. */
final class RawLine implements AutoCloseable {
  private static final int SESSION = 7;
  private static final long TRY_NS = 1_000_000_000;
  private static final int TRIES = 20;

  private final SerialLink link;
  private final BodyWriter writer = new BodyWriter();
  private final BodyReader reader = new BodyReader();
  private final byte[] chunk = new byte[512];
  private int sequence;

  RawLine(String port) throws BenchException {
    link = new SerialLink(port, SerialLink.BAUD);
    link.open();
  }

  /** A request with so many bytes of zero; the message that answers it. */
  int ask(int message, int bytes) throws BenchException {
    return ask(begin(message).put(new byte[bytes]));
  }

  /** A request with two numbers. */
  int ask(int message, long first, long second) throws BenchException {
    return ask(begin(message).putLong(first).putLong(second));
  }

  private ByteBuffer begin(int message) {
    return writer.body().put((byte) message).putInt(SESSION).putInt(++sequence);
  }

  private int ask(ByteBuffer filled) throws BenchException {
    int length = writer.frame();
    for (int left = TRIES; left > 0; left--) {
      link.write(writer.bytes(), length);
      for (Deadline deadline = Deadline.in(TRY_NS); !deadline.passed(); ) {
        int read = link.read(chunk, deadline);
        for (int i = 0; i < read; i++) {
          if (reader.take(chunk[i]) && reader.body().getInt(5) == sequence) {
            return reader.body().get(0) & 0xFF;
          }
        }
      }
    }
    throw new AssertionError("no answer to a request of " + filled.position() + " bytes");
  }

  @Override
  public void close() {
    link.close();
  }
}
