package org.stopwell.rig.wire;

import java.util.List;

/**
 * One field of a message as data: the codec, the C header and the protocol page are made from it.
 *
 * @param name the name on the page, ending in the unit where there is one
 * @param kind how it is laid out
 * @param max greatest value of a code, most bytes of a text, most entries of a list; 0 for plain
 *     numbers
 * @param unit the unit, empty where there is none
 * @param text its meaning, in one sentence
 * @param words the words of a code, in the order of their numbers
 */
public record Field(String name, Kind kind, int max, String unit, String text, List<String> words) {

  /** Layout of a field. Numbers have the low byte first; signed ones are two's complement. */
  public enum Kind {
    /** One byte, the number of a word. */
    CODE(1),
    /** One byte, 0 or 1. */
    FLAG(1),
    /** Two bytes, from 0. */
    U16(2),
    /** Four bytes, from 0. */
    U32(4),
    /** Four bytes, signed. */
    I32(4),
    /** Eight bytes, signed. */
    I64(8),
    /** One byte that counts the bytes to come, then UTF-8. */
    TEXT(1),
    /** One byte that counts the entries to come, then four signed bytes each. */
    LIST(1);

    private final int bytes;

    Kind(int bytes) {
      this.bytes = bytes;
    }

    /**
     * Bytes that are always there.
     *
     * @return 1 to 8
     */
    public int bytes() {
      return bytes;
    }
  }

  /** Copies the words. */
  public Field {
    words = List.copyOf(words);
  }

  static Field choice(String name, List<String> words, String text) {
    return new Field(name, Kind.CODE, words.size() - 1, "", text, words);
  }

  static Field flag(String name, String text) {
    return new Field(name, Kind.FLAG, 1, "", text, List.of());
  }

  static Field number(String name, Kind kind, String unit, String text) {
    return new Field(name, kind, 0, unit, text, List.of());
  }

  static Field string(String name, int maxBytes, String text) {
    return new Field(name, Kind.TEXT, maxBytes, "", text, List.of());
  }

  static Field list(String name, int maxEntries, String unit, String text) {
    return new Field(name, Kind.LIST, maxEntries, unit, text, List.of());
  }

  /**
   * The most bytes that this field takes.
   *
   * @return bytes
   */
  public int maxBytes() {
    return switch (kind) {
      case TEXT -> 1 + max;
      case LIST -> 1 + 4 * max;
      default -> kind.bytes();
    };
  }

  /**
   * Whether a number is valid in this field.
   *
   * @param value the number; for a text or a list, its length
   * @return true within the limits of the kind and of this field
   */
  public boolean allows(long value) {
    return switch (kind) {
      case CODE, FLAG, TEXT, LIST -> value >= 0 && value <= max;
      case U16 -> value >= 0 && value <= 0xFFFF;
      case U32 -> value >= 0 && value <= 0xFFFF_FFFFL;
      case I32 -> value >= Integer.MIN_VALUE && value <= Integer.MAX_VALUE;
      case I64 -> true;
    };
  }
}
