package org.stopwell.rig.serial;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.board.TestBoards;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.wire.BoardIdentity;
import org.stopwell.rig.wire.FrameReader;
import org.stopwell.rig.wire.FrameWriter;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;
import org.stopwell.rig.wire.Refusal;

/**
 * The smallest board that the protocol page allows, at the other end of a line in memory: one
 * frequency, no motor that moves, and whatever a test wants to put into its readings.
 */
final class PageBoard implements Link {
  /** What was asked, in order. */
  final List<Message> heard = new ArrayList<>();

  /** Changes each reading before it goes out. */
  Consumer<Packet> reading = packet -> {};

  /** Who it says it is. */
  BoardIdentity identity = TestBoards.identity(true, 2000);

  /** Answers every EXCHANGE with this error. */
  @Nullable Refusal refusal;

  private final FrameReader in = new FrameReader();
  private final FrameWriter out = new FrameWriter();
  private byte[] answer = new byte[0];
  private boolean mounted;

  @Override
  public String name() {
    return "memory";
  }

  @Override
  public void open() {}

  @Override
  public void write(byte[] bytes, int length) {
    for (int i = 0; i < length; i++) {
      if (in.take(bytes[i])) {
        heard.add(in.packet().message());
        Packet reply = obey(in.packet());
        int size = out.write(reply);
        answer = java.util.Arrays.copyOf(out.bytes(), size);
      }
    }
  }

  private Packet obey(Packet request) {
    Packet reply = new Packet();
    Message message = request.message();
    switch (message) {
      case HELLO -> {
        mounted = false;
        identity.put(begin(reply, Message.IDENTITY, request));
      }
      case MOUNT_BEGIN, MOUNT_VALUE, MOUNT_STEP -> begin(reply, Message.OK, request);
      case EXCHANGE -> {
        Refusal error = refusal;
        if (error == null) {
          read(reply, request);
        } else {
          begin(reply, Message.ERROR, request)
              .set(Message.ERROR.index("code"), error.ordinal())
              .set(Message.ERROR.index("why"), "as the test wants");
        }
      }
      default -> {
        mounted |= message == Message.MOUNT_END;
        if (mounted) {
          read(reply, request);
        } else {
          begin(reply, Message.OK, request);
        }
      }
    }
    return reply;
  }

  private void read(Packet reply, Packet request) {
    begin(reply, Message.READING, request);
    set(reply, "position_kind", 1);
    set(reply, "sample_sequence", 1);
    list(reply, "frequency_hz", 700, 7_000);
    list(reply, "z_real_milli_ohms", 8_000_000, 6_000_000);
    list(reply, "z_imag_milli_ohms", 0, 0);
    reading.accept(reply);
  }

  static void set(Packet packet, String field, long value) {
    packet.set(Message.READING.index(field), value);
  }

  static void list(Packet packet, String field, int... values) {
    packet.set(Message.READING.index(field), values, values.length);
  }

  private static Packet begin(Packet reply, Message message, Packet request) {
    return reply.begin(message, request.session(), request.sequence());
  }

  @Override
  public int read(byte[] into, Deadline deadline) {
    int length = answer.length;
    System.arraycopy(answer, 0, into, 0, length);
    answer = new byte[0];
    return length;
  }

  @Override
  public void forgetInput() {
    answer = new byte[0];
  }

  @Override
  public void close() {}
}
