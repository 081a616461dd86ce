package org.stopwell.rig.firmware;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.serial.SerialLink;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.wire.FrameReader;
import org.stopwell.rig.wire.FrameWriter;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;
import org.stopwell.rig.wire.Refusal;

/** The wire as both real binaries keep it, frame by frame. */
@SuppressWarnings("NullAway.Init") // each test plugs a board in first
class FirmwareWireTest {
  private static final long WAIT_NS = 250_000_000;
  private static final int TRIES = 40;
  private static final int OLD = 7;
  private static final int NEW = 8;

  private final FrameWriter writer = new FrameWriter();
  private final FrameReader reader = new FrameReader();
  private final byte[] chunk = new byte[FrameWriter.MAX_FRAME_BYTES];
  private EmulatedController board;
  private SerialLink link;
  private byte[] answer = {};

  @BeforeAll
  static void build() throws Exception {
    Firmware.make("canal-board", "drive-board", "emulators");
  }

  private void plug(String name) throws Exception {
    board = new EmulatedController(name);
    link = new SerialLink(board.port(), SerialLink.BAUD);
    link.open();
  }

  @AfterEach
  void unplug() {
    link.close();
    board.close();
  }

  /** Sends a request until it is answered, as a host does; the board is still starting at first. */
  private Packet ask(Packet request) throws BenchException {
    for (int i = 0; i < TRIES; i++) {
      byte[] frame = Arrays.copyOf(writer.bytes(), writer.write(request));
      link.write(frame, frame.length);
      Packet came = await(request);
      if (came != null) {
        return came;
      }
    }
    throw new AssertionError("no answer to " + request.message());
  }

  private @Nullable Packet await(Packet request) throws BenchException {
    Deadline deadline = Deadline.in(WAIT_NS);
    byte[] held = {};
    while (!deadline.passed()) {
      int length = link.read(chunk, deadline);
      for (int i = 0; i < length; i++) {
        held = Arrays.copyOf(held, held.length + 1);
        held[held.length - 1] = chunk[i];
        if (reader.take(chunk[i])) {
          Packet packet = reader.packet();
          if (packet.session() == request.session() && packet.sequence() == request.sequence()) {
            answer = held;
            return packet;
          }
          held = new byte[0];
        }
      }
    }
    return null;
  }

  private static Packet request(Message message, int session, int sequence) {
    return new Packet().begin(message, session, sequence);
  }

  private void hello(int session) throws BenchException {
    Packet hello = request(Message.HELLO, session, 1).set(0, FrameWriter.PROTOCOL);
    assertEquals(Message.IDENTITY, ask(hello).message());
  }

  @ParameterizedTest
  @ValueSource(strings = {"canal", "drive"})
  void a_late_command_of_an_older_session_is_refused_and_changes_nothing(String name)
      throws Exception {
    plug(name);
    hello(OLD);
    hello(NEW);
    Packet late = ask(request(Message.MOUNT_BEGIN, OLD, 2).set(1, 1));
    assertEquals(Message.ERROR, late.message());
    assertEquals(Refusal.OTHER_SESSION.ordinal(), late.integer(0));

    Packet status = ask(request(Message.HEARTBEAT, NEW, 2));
    assertEquals(Message.STATUS, status.message(), "the new session goes on");
    Packet value = ask(request(Message.MOUNT_VALUE, NEW, 3).set(0, "a.b").set(3, ""));
    assertEquals(Refusal.BAD_ORDER.ordinal(), value.integer(0), "the late mount has not begun");
  }

  @ParameterizedTest
  @ValueSource(strings = {"canal", "drive"})
  void the_same_request_again_brings_the_same_answer(String name) throws Exception {
    plug(name);
    hello(NEW);
    Packet begin = request(Message.HEARTBEAT, NEW, 2);
    ask(begin);
    byte[] first = answer;
    ask(request(Message.HEARTBEAT, NEW, 2));
    assertArrayEquals(first, answer, "counts and time of a second obedience would differ");
  }

  @ParameterizedTest
  @ValueSource(strings = {"canal", "drive"})
  void noise_is_survived_and_counted(String name) throws Exception {
    plug(name);
    hello(NEW);
    SplittableRandom random = new SplittableRandom(43);
    byte[] noise = new byte[200];
    for (int i = 0; i < 10; i++) {
      random.nextBytes(noise);
      link.write(noise, noise.length);
    }
    link.write(new byte[1], 1);
    Packet status = ask(request(Message.HEARTBEAT, NEW, 2));

    assertEquals(Message.STATUS, status.message());
    long bad = status.number(Message.STATUS.index("frames_bad"));
    assertTrue(bad > 0, "seed 43: " + bad + " damaged frames");
  }
}
