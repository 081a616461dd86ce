package org.stopwell.rig.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.SplittableRandom;

/** Random packets, and how to tell that two are the same. */
final class PacketSamples {
  private PacketSamples() {}

  static Packet random(Message message, SplittableRandom random) {
    Packet packet = new Packet().begin(message, random.nextInt(), random.nextInt());
    List<Field> fields = message.fields();
    for (int i = 0; i < fields.size(); i++) {
      Field field = fields.get(i);
      switch (field.kind()) {
        case CODE, FLAG -> packet.set(i, random.nextInt(field.max() + 1));
        case U16 -> packet.set(i, random.nextInt(65536));
        case U32 -> packet.set(i, random.nextInt() & 0xFFFF_FFFFL);
        case I32 -> packet.set(i, random.nextInt());
        case I64 -> packet.set(i, random.nextLong());
        case TEXT -> packet.set(i, "x".repeat(random.nextInt(field.max() + 1)));
        case LIST -> {
          int[] values = random.ints(field.max()).toArray();
          packet.set(i, values, random.nextInt(field.max() + 1));
        }
      }
    }
    return packet;
  }

  static void assertSame(Packet a, Packet b) {
    assertEquals(a.message(), b.message());
    assertEquals(a.session(), b.session());
    assertEquals(a.sequence(), b.sequence());
    List<Field> fields = a.message().fields();
    for (int i = 0; i < fields.size(); i++) {
      Field field = fields.get(i);
      String what = a.message() + "." + field.name();
      switch (field.kind()) {
        case TEXT -> assertEquals(a.text(i), b.text(i), what);
        case LIST -> {
          assertEquals(a.number(i), b.number(i), what);
          for (int k = 0; k < a.number(i); k++) {
            assertEquals(a.entry(i, k), b.entry(i, k), what);
          }
        }
        default -> assertEquals(a.number(i), b.number(i), what);
      }
    }
  }
}
