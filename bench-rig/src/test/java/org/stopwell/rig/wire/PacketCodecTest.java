package org.stopwell.rig.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.rig.board.TestBoards;

/**
 * What of the bytes of a frame is refused: every field beyond its limits, and every other length.
 */
class PacketCodecTest {
  @ParameterizedTest
  @EnumSource(Message.class)
  void anEmptyMessageComesBackAsItIs(Message message) {
    byte[] bytes = bytes(new Packet().begin(message, 7, -3));
    Packet read = new Packet();
    assertTrue(PacketCodec.read(ByteBuffer.wrap(bytes), read));
    assertEquals(message, read.message());
    assertEquals(7, read.session());
    assertEquals(-3, read.sequence());
  }

  @ParameterizedTest
  @EnumSource(Message.class)
  void aByteMoreOrLessIsRefused(Message message) {
    byte[] bytes = bytes(new Packet().begin(message, 1, 1));
    for (int length = 0; length <= bytes.length + 1; length++) {
      byte[] cut = Arrays.copyOf(bytes, length);
      assertEquals(
          length == bytes.length,
          PacketCodec.read(ByteBuffer.wrap(cut), new Packet()),
          message + " " + length);
    }
  }

  /** Codes, flags and lengths of texts and lists are one byte: 255 is beyond every limit. */
  @ParameterizedTest
  @EnumSource(Message.class)
  void aCodeAFlagOrALengthBeyondItsLimitIsRefused(Message message) {
    byte[] bytes = bytes(new Packet().begin(message, 1, 1));
    int at = PacketCodec.HEADER_BYTES;
    for (Field field : message.fields()) {
      int size =
          switch (field.kind()) {
            case CODE, FLAG, TEXT, LIST -> 1;
            case U16 -> 2;
            case U32, I32 -> 4;
            case I64 -> 8;
          };
      if (size == 1) {
        byte[] spoiled = bytes.clone();
        spoiled[at] = (byte) 255;
        assertFalse(
            PacketCodec.read(ByteBuffer.wrap(spoiled), new Packet()), message + " " + field.name());
      }
      at += size;
    }
    assertEquals(bytes.length, at, "of an empty message");
  }

  @Test
  void aMessageThatNobodyKnowsIsRefused() {
    byte[] bytes = bytes(new Packet().begin(Message.OK, 1, 1));
    bytes[0] = (byte) 0xEE;
    assertFalse(PacketCodec.read(ByteBuffer.wrap(bytes), new Packet()));
  }

  @Test
  void aNewMessageKeepsNothingOfTheOneBefore() {
    Packet packet = new Packet().begin(Message.REFUSED, 1, 1);
    int key = Message.REFUSED.index("key");
    assertEquals("", packet.text(key));
    packet.set(key, "canal.length_mm");
    packet.begin(Message.STATUS, 1, 2).set(Message.STATUS.index("time_ns"), 9);
    packet.begin(Message.REFUSED, 1, 3);
    assertEquals("", packet.text(key));
    packet.begin(Message.STATUS, 1, 4);
    assertEquals(0, packet.number(Message.STATUS.index("time_ns")));
  }

  @ParameterizedTest
  @EnumSource(TimeBound.class)
  void aBoardMayStateATimeUpToItsBoundsAndNoOther(TimeBound bound) {
    for (long stated : List.of(bound.leastNs() - 1, bound.mostNs() + 1)) {
      assertFalse(bound.allows(stating(bound, stated)), bound + " " + stated);
    }
    for (long stated : List.of(bound.leastNs(), bound.mostNs())) {
      assertTrue(bound.allows(stating(bound, stated)), bound + " " + stated);
      assertEquals(stated, bound.of(stating(bound, stated)));
    }
  }

  private static BoardIdentity stating(TimeBound bound, long ns) {
    return TestBoards.with(TestBoards.identity(true, 2_000), bound.field(), ns);
  }

  private static byte[] bytes(Packet packet) {
    ByteBuffer to = ByteBuffer.allocate(2_000).order(ByteOrder.LITTLE_ENDIAN);
    PacketCodec.write(packet, to);
    to.flip();
    byte[] bytes = new byte[to.remaining()];
    to.get(bytes);
    return bytes;
  }
}
