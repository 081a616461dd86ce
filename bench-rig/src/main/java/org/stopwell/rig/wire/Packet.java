package org.stopwell.rig.wire;

import java.util.Arrays;

/** One message with its values, opened. A reused frame: reading one overwrites it. */
public final class Packet {
  private static final int MAX_FIELDS = 32;
  private static final int MAX_ENTRIES = 40;

  private Message message = Message.OK;
  private int session;
  private int sequence;
  private final long[] numbers = new long[MAX_FIELDS];
  private final String[] texts = new String[MAX_FIELDS];
  private final int[][] lists = new int[MAX_FIELDS][MAX_ENTRIES];

  /** An empty packet. */
  public Packet() {
    Arrays.fill(texts, "");
  }

  /**
   * Makes this an empty message: zeros, empty texts, empty lists.
   *
   * @param newMessage which message
   * @param newSession session that it belongs to
   * @param newSequence its number in the session
   * @return this packet
   */
  public Packet begin(Message newMessage, int newSession, int newSequence) {
    message = newMessage;
    session = newSession;
    sequence = newSequence;
    Arrays.fill(numbers, 0);
    Arrays.fill(texts, "");
    return this;
  }

  /**
   * Which message this is.
   *
   * @return the message
   */
  public Message message() {
    return message;
  }

  /**
   * The session it belongs to.
   *
   * @return 32 bits
   */
  public int session() {
    return session;
  }

  /**
   * Its number in the session; an answer has the number of its request.
   *
   * @return 32 bits that wrap around
   */
  public int sequence() {
    return sequence;
  }

  /**
   * A number, a code, a flag as 0 or 1, or the length of a list.
   *
   * @param field place of the field
   * @return its value
   */
  public long number(int field) {
    return numbers[field];
  }

  /**
   * A number that fits an int.
   *
   * @param field place of a field of four bytes or fewer, signed
   * @return its value
   */
  public int integer(int field) {
    return (int) numbers[field];
  }

  /**
   * A flag.
   *
   * @param field place of the field
   * @return its value
   */
  public boolean flag(int field) {
    return numbers[field] != 0;
  }

  /**
   * A text.
   *
   * @param field place of the field
   * @return its value
   */
  public String text(int field) {
    return texts[field];
  }

  /**
   * One entry of a list.
   *
   * @param field place of the field
   * @param entry place in the list
   * @return its value
   */
  public int entry(int field, int entry) {
    return lists[field][entry];
  }

  /**
   * Sets a number.
   *
   * @param field place of the field
   * @param value its value
   * @return this packet
   * @throws IllegalArgumentException when the value does not fit the field
   */
  public Packet set(int field, long value) {
    check(field, value);
    numbers[field] = value;
    return this;
  }

  /**
   * Sets a flag.
   *
   * @param field place of the field
   * @param value its value
   * @return this packet
   */
  public Packet set(int field, boolean value) {
    return set(field, value ? 1 : 0);
  }

  /**
   * Sets a text. What does not fit is cut off at the end.
   *
   * @param field place of the field
   * @param value its value
   * @return this packet
   */
  public Packet set(int field, String value) {
    texts[field] = value;
    return this;
  }

  /**
   * Sets a list.
   *
   * @param field place of the field
   * @param values buffer of its entries
   * @param length how many of them
   * @return this packet
   * @throws IllegalArgumentException when the list is too long for the field
   */
  public Packet set(int field, int[] values, int length) {
    check(field, length);
    numbers[field] = length;
    System.arraycopy(values, 0, lists[field], 0, length);
    return this;
  }

  void setEntry(int field, int entry, int value) {
    lists[field][entry] = value;
  }

  private void check(int field, long value) {
    Field f = message.fields().get(field);
    if (!f.allows(value)) {
      throw new IllegalArgumentException(
          message + "." + f.name() + " = " + value + " does not fit " + f.kind());
    }
  }
}
