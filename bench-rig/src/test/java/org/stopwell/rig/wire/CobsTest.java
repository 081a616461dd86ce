package org.stopwell.rig.wire;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class CobsTest {
  /** Cheshire and Baker 1999, with the vectors of the encyclopaedia article; A..B is a run. */
  @ParameterizedTest
  @CsvSource({
    "'',                 01",
    "00,                 01 01",
    "00 00,              01 01 01",
    "00 11 00,           01 02 11 01",
    "11 22 00 33,        03 11 22 02 33",
    "11 22 33 44,        05 11 22 33 44",
    "11 00 00 00,        02 11 01 01 01",
    "01..FE,             FF 01..FE",
    "00 01..FE,          01 FF 01..FE",
    "01..FF,             FF 01..FE 02 FF",
    "02..FF 00,          FF 02..FF 01 01",
    "03..FF 00 01,       FE 03..FF 02 01",
  })
  void publishedVectorsHoldBothWays(String plainText, String stuffedText) {
    byte[] plain = bytes(plainText);
    byte[] stuffed = bytes(stuffedText);

    assertArrayEquals(stuffed, encode(plain));
    assertArrayEquals(plain, decode(stuffed));
  }

  /** Some encoders close a run of exactly 254 bytes with a 01 of its own. */
  @Test
  void aFullRunMayEndInAnExtraOne() {
    assertArrayEquals(bytes("01..FE"), decode(bytes("FF 01..FE 01")));
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "02", "05 11", "00", "02 00", "03 11 00", "FF 01"})
  void wrongStuffingIsRefused(String stuffed) {
    byte[] from = bytes(stuffed);
    assertEquals(-1, Cobs.decode(from, from.length, new byte[300]));
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3})
  void anythingComesBackWithoutAZeroOnTheWayAndWithinTheBound(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    for (int i = 0; i < 5000; i++) {
      byte[] plain = new byte[random.nextInt(600)];
      random.nextBytes(plain);
      for (int zeros = random.nextInt(1 + plain.length / 4); zeros > 0; zeros--) {
        plain[random.nextInt(plain.length)] = 0;
      }
      byte[] stuffed = encode(plain);
      assertTrue(stuffed.length <= Cobs.maxEncoded(plain.length), "seed " + seed);
      for (byte b : stuffed) {
        assertTrue(b != 0, "seed " + seed);
      }
      assertArrayEquals(plain, decode(stuffed), "seed " + seed);
    }
  }

  private static byte[] encode(byte[] plain) {
    byte[] to = new byte[Cobs.maxEncoded(plain.length)];
    return Arrays.copyOf(to, Cobs.encode(plain, plain.length, to));
  }

  /** In place, as the frame reader does it. */
  private static byte[] decode(byte[] stuffed) {
    byte[] held = stuffed.clone();
    return Arrays.copyOf(held, Cobs.decode(held, held.length, held));
  }

  private static byte[] bytes(String text) {
    byte[] all = new byte[600];
    int n = 0;
    for (String part : text.isBlank() ? new String[0] : text.trim().split(" +")) {
      int first = Integer.parseInt(part.substring(0, 2), 16);
      int last = part.length() == 2 ? first : Integer.parseInt(part.substring(4), 16);
      for (int b = first; b <= last; b++) {
        all[n++] = (byte) b;
      }
    }
    return Arrays.copyOf(all, n);
  }
}
