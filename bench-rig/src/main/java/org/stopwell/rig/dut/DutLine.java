package org.stopwell.rig.dut;

import java.nio.ByteBuffer;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.DutException;
import org.stopwell.rig.bench.ProgramEnd;
import org.stopwell.rig.serial.Link;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.wire.BodyReader;
import org.stopwell.rig.wire.BodyWriter;

/** Requests and answers on the line to a board under test, docs/firmware.md. */
final class DutLine {
  static final int WHO = 0x41;
  static final int BEGIN = 0x42;
  static final int STEP = 0x43;
  static final int OFF = 0x44;
  static final int AM = 0xC1;
  static final int READY = 0xC2;
  static final int STEPPED = 0xC3;
  static final int REFUSED = 0xC4;

  /** Message, session, sequence. */
  private static final int HEADER_BYTES = 9;

  /** So often; assumed: a board that starts anew, or an emulated one on a busy computer. */
  private static final int TRIES = 10;

  private final Link link;
  private final long tryNs;
  private final BodyWriter writer = new BodyWriter();
  private final BodyReader reader = new BodyReader();
  private final byte[] chunk = new byte[512];
  private int from;
  private int to;
  private int session;
  private int sequence;
  private int asked;

  /** Repeats a request after tryNs. */
  DutLine(Link link, long tryNs) {
    this.link = link;
    this.tryNs = tryNs;
  }

  String name() {
    return link.name();
  }

  /** A new session: late answers of an older one are ignored. */
  void newSession() {
    int before = session;
    session = (int) MachineClock.epochMicros();
    if (session == before || session == 0) {
      session = before + 1;
    }
    link.forgetInput();
    reader.forget();
    from = 0;
    to = 0;
  }

  /** Begins a request; its fields go into the buffer. */
  ByteBuffer request(int message) {
    sequence++;
    asked = message;
    return writer.body().put((byte) message).putInt(session).putInt(sequence);
  }

  /**
   * Sends the request and waits for its answer.
   *
   * @return the answer, from its first byte on
   * @throws DutException when there is none
   */
  ByteBuffer ask() throws BenchException, DutException {
    if (ProgramEnd.hasBegun()) {
      throw new BenchException(RigFault.REFUSED, "the program is ending; nothing is sent");
    }
    int length = writer.frame();
    long badBefore = reader.bad();
    for (int left = TRIES; left > 0; left--) {
      link.write(writer.bytes(), length);
      if (answered(Deadline.in(tryNs))) {
        return reader.body().rewind();
      }
    }
    String silence =
        "port "
            + name()
            + ": no answer to "
            + words(asked)
            + " within "
            + TRIES * tryNs / 1_000_000
            + " ms";
    long bad = reader.bad() - badBefore;
    if (bad > 0) {
      throw new BenchException(
          RigFault.BAD_FRAMES,
          silence + ", but " + bad + " damaged frames; check the speed (--baud)");
    }
    throw new DutException(
        DutException.Kind.DUT_SILENT,
        silence + ". The board or its line failed; check its supply and its line");
  }

  private boolean answered(Deadline deadline) throws BenchException {
    while (true) {
      while (from < to) {
        if (reader.take(chunk[from++]) && isAnswer(reader.body())) {
          return true;
        }
      }
      from = 0;
      to = link.read(chunk, deadline);
      if (to == 0 && deadline.passed()) {
        return false;
      }
    }
  }

  private boolean isAnswer(ByteBuffer body) {
    return body.remaining() >= HEADER_BYTES
        && (body.get(0) & 0x80) != 0
        && body.getInt(1) == session
        && body.getInt(5) == sequence;
  }

  /** Takes the header off an answer. */
  static int message(ByteBuffer answer) {
    int message = answer.get() & 0xFF;
    answer.position(HEADER_BYTES);
    return message;
  }

  /** Motor off, without waiting for an answer. Never throws; by any thread. */
  void off() {
    BodyWriter own = new BodyWriter();
    own.body().put((byte) OFF).putInt(session).putInt(++sequence);
    int length = own.frame();
    try {
      link.write(own.bytes(), length);
    } catch (BenchException e) {
      // The line is gone; the board turns its motor off by itself.
    }
  }

  static String words(int message) {
    return switch (message) {
      case WHO -> "WHO";
      case BEGIN -> "BEGIN";
      case STEP -> "STEP";
      default -> "OFF";
    };
  }
}
