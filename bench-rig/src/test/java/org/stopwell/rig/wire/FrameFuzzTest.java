package org.stopwell.rig.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.util.Arrays;
import java.util.concurrent.TimeUnit;
import java.util.zip.CRC32C;
import org.junit.jupiter.api.Timeout;

/**
 * The decoder against inputs that a coverage-guided fuzzer invents. Whatever comes, it neither
 * throws nor hangs nor grows, what it accepts is a message that makes the same message again, and
 * after it at most one good frame is lost.
 */
class FrameFuzzTest {
  private final FrameWriter writer = new FrameWriter();

  @FuzzTest
  @Timeout(value = 3, unit = TimeUnit.HOURS) // of the long form; every build invents far fewer
  void anyBytes(byte[] bytes) {
    FrameReader reader = new FrameReader();
    feed(reader, bytes);
    feed(reader, framed(bytes));
    assertTrue(reader.counts().good() + reader.counts().bad() <= 2L + zeros(bytes));
    assertInStepAgain(reader);
  }

  private void feed(FrameReader reader, byte[] bytes) {
    for (byte b : bytes) {
      if (reader.take(b)) {
        assertMakesTheSameMessageAgain(reader.packet());
      }
    }
  }

  private void assertMakesTheSameMessageAgain(Packet packet) {
    FrameReader second = new FrameReader();
    int length = writer.write(packet);
    boolean good = false;
    for (int i = 0; i < length; i++) {
      good = second.take(writer.bytes()[i]);
    }
    assertTrue(good);
    PacketSamples.assertSame(packet, second.packet());
  }

  private void assertInStepAgain(FrameReader reader) {
    Packet ok = new Packet().begin(Message.OK, 1, 2);
    byte[] frame = Arrays.copyOf(writer.bytes(), writer.write(ok));
    feed(reader, frame);
    long before = reader.counts().good();
    feed(reader, frame);
    assertEquals(before + 1, reader.counts().good());
    PacketSamples.assertSame(ok, reader.packet());
  }

  /** The same bytes as a frame with a right CRC, so that what lies behind the CRC is reached. */
  private static byte[] framed(byte[] bytes) {
    byte[] body = Arrays.copyOf(bytes, Math.min(bytes.length, 250) + FrameWriter.CRC_BYTES);
    int length = body.length - FrameWriter.CRC_BYTES;
    CRC32C crc = new CRC32C();
    crc.update(body, 0, length);
    for (int i = 0; i < FrameWriter.CRC_BYTES; i++) {
      body[length + i] = (byte) (crc.getValue() >>> (8 * i));
    }
    byte[] frame = new byte[Cobs.maxEncoded(body.length) + 2];
    int stuffed = Cobs.encode(body, body.length, frame);
    return Arrays.copyOf(frame, stuffed + 1);
  }

  private static int zeros(byte[] bytes) {
    int zeros = 0;
    for (byte b : bytes) {
      zeros += b == 0 ? 1 : 0;
    }
    return zeros;
  }
}
