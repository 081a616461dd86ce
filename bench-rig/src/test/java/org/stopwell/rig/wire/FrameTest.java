package org.stopwell.rig.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.SplittableRandom;
import java.util.zip.CRC32C;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class FrameTest {
  private final FrameWriter writer = new FrameWriter();
  private final FrameReader reader = new FrameReader();

  /** CRC catalogue and RFC 3720, appendix B.4. */
  @Test
  void theCheckIsThePublishedCrc32C() {
    byte[] ascending = new byte[32];
    byte[] ones = new byte[32];
    for (int i = 0; i < 32; i++) {
      ascending[i] = (byte) i;
      ones[i] = (byte) 0xFF;
    }
    assertEquals(0xE3069283L, crc("123456789".getBytes(StandardCharsets.US_ASCII)));
    assertEquals(0x8A9136AAL, crc(new byte[32]));
    assertEquals(0x62A8AB43L, crc(ones));
    assertEquals(0x46DD794EL, crc(ascending));
    assertEquals(0L, crc(new byte[0]));
  }

  @ParameterizedTest
  @EnumSource(Message.class)
  void everyMessageFitsOneFrameAtItsGreatest(Message message) {
    int body = PacketCodec.HEADER_BYTES + FrameWriter.CRC_BYTES;
    for (Field field : message.fields()) {
      body += field.maxBytes();
    }
    assertTrue(body <= FrameWriter.MAX_BODY_BYTES, message + " takes " + body + " bytes");
  }

  @ParameterizedTest
  @EnumSource(Message.class)
  void everyMessageComesBackAsItWasSent(Message message) {
    SplittableRandom random = new SplittableRandom(message.code());
    for (int i = 0; i < 300; i++) {
      Packet sent = PacketSamples.random(message, random);
      assertTrue(receive(frame(sent)), "seed " + message.code());
      PacketSamples.assertSame(sent, reader.packet());
    }
  }

  @Test
  void textThatDoesNotFitIsCutBetweenCharacters() {
    Packet sent = new Packet().begin(Message.REFUSED, 1, 1);
    sent.set(Message.REFUSED.index("why"), "µ".repeat(119) + "end");
    assertTrue(receive(frame(sent)));
    assertEquals("µ".repeat(60), reader.packet().text(Message.REFUSED.index("why")));

    sent.set(Message.REFUSED.index("why"), "a" + "µ".repeat(119));
    assertTrue(receive(frame(sent)));
    assertEquals("a" + "µ".repeat(59), reader.packet().text(Message.REFUSED.index("why")));
  }

  @ParameterizedTest
  @ValueSource(strings = {"C3", "FF", "ED A0 80", "1B", "00", "C0 80"})
  void textThatIsNotUtf8OrSteersATerminalMakesABadMessage(String hex) {
    byte[] text = HexFormat.ofDelimiter(" ").parseHex(hex);
    byte[] body = new byte[PacketCodec.HEADER_BYTES + 3 + text.length];
    body[0] = (byte) Message.ERROR.code();
    body[PacketCodec.HEADER_BYTES + 1] = (byte) (text.length + 1);
    body[PacketCodec.HEADER_BYTES + 2] = 'x';
    System.arraycopy(text, 0, body, PacketCodec.HEADER_BYTES + 3, text.length);
    assertFalse(PacketCodec.read(ByteBuffer.wrap(body), new Packet()));
    Arrays.fill(body, PacketCodec.HEADER_BYTES + 3, body.length, (byte) 'y');
    assertTrue(PacketCodec.read(ByteBuffer.wrap(body), new Packet()));
  }

  @Test
  void aNumberThatDoesNotFitItsFieldIsRefusedBeforeItIsSent() {
    Packet packet = new Packet().begin(Message.HELLO, 1, 1);
    assertThrows(IllegalArgumentException.class, () -> packet.set(0, 65536));
    assertThrows(IllegalArgumentException.class, () -> packet.set(0, -1));
  }

  @Test
  void everySingleDamagedBitIsNoticed() {
    byte[] frame = frame(PacketSamples.random(Message.READING, new SplittableRandom(7)));
    for (int bit = 0; bit < 8 * (frame.length - 1); bit++) {
      byte[] damaged = frame.clone();
      damaged[bit / 8] ^= (byte) (1 << (bit % 8));
      assertFalse(receive(damaged), "bit " + bit);
      assertTrue(receive(frame), "the next frame after bit " + bit);
    }
  }

  @ParameterizedTest
  @ValueSource(longs = {11, 12, 13, 14})
  void afterAnyGarbageAtMostOneGoodFrameIsLost(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    for (int i = 0; i < 2000; i++) {
      byte[] garbage = new byte[random.nextInt(2000)];
      random.nextBytes(garbage);
      receive(garbage);
      receive(frame(PacketSamples.random(Message.STATUS, random)));
      Packet second = PacketSamples.random(Message.EXCHANGE, random);
      assertTrue(receive(frame(second)), "seed " + seed);
      PacketSamples.assertSame(second, reader.packet());
    }
  }

  @ParameterizedTest
  @ValueSource(longs = {21, 22})
  void piecesMergedCutShortDoubledAndLostNeverMakeAFalseMessage(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    Packet sent = PacketSamples.random(Message.EXCHANGE, random);
    byte[] frame = frame(sent);
    for (int i = 0; i < 5000; i++) {
      int from = random.nextInt(frame.length);
      int to = from + random.nextInt(frame.length - from);
      for (int k = from; k < to; k++) {
        if (reader.take(frame[k])) {
          PacketSamples.assertSame(sent, reader.packet());
        }
      }
      if (random.nextInt(4) == 0 && receive(frame)) {
        PacketSamples.assertSame(sent, reader.packet());
      }
    }
    receive(new byte[] {0});
    assertTrue(receive(frame), "seed " + seed);
  }

  @Test
  void aGoodCheckOverAMessageOfAnotherVersionIsCountedAndRefused() {
    Packet packet = new Packet().begin(Message.HEARTBEAT, 1, 1);
    byte[] frame = frame(packet);
    byte[] body = new byte[64];
    int length = Cobs.decode(frame, frame.length - 1, body) - 4;
    body[0] = 0x7F;
    CRC32C crc = new CRC32C();
    crc.update(body, 0, length);
    for (int i = 0; i < 4; i++) {
      body[length + i] = (byte) (crc.getValue() >>> (8 * i));
    }
    byte[] unknown = new byte[80];
    int end = Cobs.encode(body, length + 4, unknown);

    assertFalse(receive(Arrays.copyOf(unknown, end + 1)));
    assertEquals(1, reader.counts().badBody());
    assertEquals(1, reader.counts().bad());
  }

  @Test
  void aFloodWithoutEndCountsAsOneFrameAndTakesNoMemory() {
    for (int i = 0; i < 10_000_000; i++) {
      assertFalse(reader.take((byte) 0x55));
    }
    reader.take((byte) 0);
    assertEquals(1, reader.counts().overlong());
    assertTrue(receive(frame(new Packet().begin(Message.OK, 1, 1))));
  }

  @Test
  void zerosBetweenFramesMeanNothing() {
    assertFalse(receive(new byte[100]));
    assertEquals(0, reader.counts().bad());
  }

  private byte[] frame(Packet packet) {
    return Arrays.copyOf(writer.bytes(), writer.write(packet));
  }

  private boolean receive(byte[] bytes) {
    boolean good = false;
    for (byte b : bytes) {
      good = reader.take(b);
    }
    return good;
  }

  private static long crc(byte[] bytes) {
    CRC32C crc = new CRC32C();
    crc.update(bytes);
    return crc.getValue();
  }
}
