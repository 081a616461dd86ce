package org.stopwell.harness.export;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.function.Consumer;

/**
 * Writes the compact protocol of Apache Thrift, as much of it as the headers and the footer of a
 * Parquet file need. Fields of a struct are written in ascending order of their numbers.
 */
final class ThriftCompact {
  private static final int I32 = 5;
  private static final int I64 = 6;
  private static final int BINARY = 8;
  private static final int LIST = 9;
  private static final int STRUCT = 12;

  private final ByteArrayOutputStream out = new ByteArrayOutputStream();
  private final Deque<Integer> last = new ArrayDeque<>();

  ThriftCompact() {
    last.push(0);
  }

  /** The bytes of one whole struct. */
  static byte[] struct(Consumer<ThriftCompact> fields) {
    ThriftCompact writer = new ThriftCompact();
    fields.accept(writer);
    writer.out.write(0);
    return writer.out.toByteArray();
  }

  ThriftCompact i32(int field, int value) {
    head(field, I32);
    varint(((long) value << 1) ^ (value >> 31));
    return this;
  }

  ThriftCompact i64(int field, long value) {
    head(field, I64);
    varint((value << 1) ^ (value >> 63));
    return this;
  }

  ThriftCompact text(int field, String value) {
    head(field, BINARY);
    bytes(value);
    return this;
  }

  ThriftCompact struct(int field, Consumer<ThriftCompact> fields) {
    head(field, STRUCT);
    inside(fields);
    return this;
  }

  ThriftCompact structs(int field, List<Consumer<ThriftCompact>> items) {
    list(field, STRUCT, items.size());
    items.forEach(this::inside);
    return this;
  }

  ThriftCompact texts(int field, List<String> items) {
    list(field, BINARY, items.size());
    items.forEach(this::bytes);
    return this;
  }

  ThriftCompact ints(int field, List<Integer> items) {
    list(field, I32, items.size());
    items.forEach(i -> varint(((long) i << 1) ^ (i >> 31)));
    return this;
  }

  private void inside(Consumer<ThriftCompact> fields) {
    last.push(0);
    fields.accept(this);
    out.write(0);
    last.pop();
  }

  /** The number of a field as its distance from the one before, which is below 16 here. */
  private void head(int field, int type) {
    int distance = field - last.pop();
    last.push(field);
    if (!(distance > 0 && distance < 16)) {
      throw new IllegalArgumentException("field " + field + " at a distance of " + distance);
    }
    out.write(distance << 4 | type);
  }

  private void list(int field, int type, int size) {
    head(field, LIST);
    if (size < 15) {
      out.write(size << 4 | type);
    } else {
      out.write(0xF0 | type);
      varint(size);
    }
  }

  private void bytes(String value) {
    byte[] bytes = value.getBytes(StandardCharsets.UTF_8);
    varint(bytes.length);
    out.writeBytes(bytes);
  }

  private void varint(long value) {
    long rest = value;
    while ((rest & ~0x7FL) != 0) {
      out.write((int) ((rest & 0x7F) | 0x80));
      rest >>>= 7;
    }
    out.write((int) rest);
  }
}
