package org.stopwell.rig.wire;

import java.nio.BufferUnderflowException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Lays a packet out in bytes and back, by the table of {@link Message} alone. */
final class PacketCodec {
  /** Bytes before the fields: message, session, sequence. */
  static final int HEADER_BYTES = 9;

  private PacketCodec() {}

  static void write(Packet packet, ByteBuffer to) {
    to.order(ByteOrder.LITTLE_ENDIAN);
    to.put((byte) packet.message().code()).putInt(packet.session()).putInt(packet.sequence());
    List<Field> fields = packet.message().fields();
    for (int i = 0; i < fields.size(); i++) {
      writeField(packet, i, fields.get(i), to);
    }
  }

  private static void writeField(Packet packet, int i, Field field, ByteBuffer to) {
    long number = packet.number(i);
    switch (field.kind()) {
      case CODE, FLAG -> to.put((byte) number);
      case U16 -> to.putShort((short) number);
      case U32, I32 -> to.putInt((int) number);
      case I64 -> to.putLong(number);
      case TEXT -> {
        byte[] bytes = packet.text(i).getBytes(StandardCharsets.UTF_8);
        int length = fit(bytes, field.max());
        to.put((byte) length).put(bytes, 0, length);
      }
      case LIST -> {
        to.put((byte) number);
        for (int k = 0; k < number; k++) {
          to.putInt(packet.entry(i, k));
        }
      }
    }
  }

  /**
   * Cuts between characters, never inside of one: UTF-8 continues with bytes of the form 10xxxxxx.
   */
  private static int fit(byte[] utf8, int max) {
    int length = Math.min(utf8.length, max);
    while (length > 0 && length < utf8.length && (utf8[length] & 0xC0) == 0x80) {
      length--;
    }
    return length;
  }

  /** Reads a whole body; false when it is not exactly one message of the table. */
  static boolean read(ByteBuffer from, Packet packet) {
    from.order(ByteOrder.LITTLE_ENDIAN);
    if (from.remaining() < HEADER_BYTES) {
      return false;
    }
    @Nullable Message message = Message.ofCode(from.get());
    if (message == null) {
      return false;
    }
    packet.begin(message, from.getInt(), from.getInt());
    List<Field> fields = message.fields();
    try {
      for (int i = 0; i < fields.size(); i++) {
        if (!readField(from, packet, i, fields.get(i))) {
          return false;
        }
      }
    } catch (BufferUnderflowException e) {
      return false;
    }
    return !from.hasRemaining();
  }

  private static boolean readField(ByteBuffer from, Packet packet, int i, Field field) {
    long number =
        switch (field.kind()) {
          case CODE, FLAG, TEXT, LIST -> from.get() & 0xFF;
          case U16 -> from.getShort() & 0xFFFF;
          case U32 -> from.getInt() & 0xFFFF_FFFFL;
          case I32 -> from.getInt();
          case I64 -> from.getLong();
        };
    if (!field.allows(number)) {
      return false;
    }
    packet.set(i, number);
    if (field.kind() == Field.Kind.TEXT) {
      @Nullable String text = text(from, (int) number);
      if (text == null) {
        return false;
      }
      packet.set(i, text);
    } else if (field.kind() == Field.Kind.LIST) {
      for (int k = 0; k < number; k++) {
        packet.setEntry(i, k, from.getInt());
      }
    }
    return true;
  }

  /** Text for people and keys: well-formed, and nothing in it that steers a terminal. */
  private static @Nullable String text(ByteBuffer from, int length) {
    byte[] bytes = new byte[length];
    from.get(bytes);
    try {
      String text = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
      return text.chars().anyMatch(Character::isISOControl) ? null : text;
    } catch (CharacterCodingException e) {
      return null;
    }
  }
}
