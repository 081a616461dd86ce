package org.stopwell.rig.wire;

import java.util.Locale;
import java.util.function.Consumer;

/** The C header for firmware, made from the table of messages. */
final class CHeader {
  private final StringBuilder out = new StringBuilder();

  private CHeader() {}

  static String text() {
    CHeader header = new CHeader();
    header.write();
    return header.out.toString();
  }

  private void write() {
    line("/* Made from the table of messages in org.stopwell.rig.wire.Message. Do not edit. */");
    line("#ifndef SW_MESSAGES_H\n#define SW_MESSAGES_H\n");
    line("#include <string.h>\n\n#include \"sw_bytes.h\"\n");
    line("#define SW_PROTOCOL %d", FrameWriter.PROTOCOL);
    line("#define SW_HEADER_BYTES %d\n", PacketCodec.HEADER_BYTES);
    line("/* The host refuses a board whose identity states a time outside of these. */");
    for (TimeBound bound : TimeBound.values()) {
      String name = bound.field().toUpperCase(Locale.ROOT);
      line("#define SW_LEAST_%s %dLL", name, bound.leastNs());
      line("#define SW_MOST_%s %dLL", name, bound.mostNs());
    }
    line("");
    line("enum sw_code {");
    for (Message m : Message.values()) {
      line("  SW_%s = 0x%02X,", m, m.code());
    }
    line("};\n");
    for (Message m : Message.values()) {
      words(m);
    }
    for (Message m : Message.values()) {
      struct(m);
    }
    line("struct sw_message {\n  uint8_t code;\n  uint32_t session;\n  uint32_t sequence;");
    line("  union {");
    for (Message m : Message.values()) {
      if (!m.fields().isEmpty()) {
        line("    struct sw_%s %s;", lower(m), lower(m));
      }
    }
    line("  } as;\n};\n");
    line(
        "/* Opens a message; false when it is not exactly one message of this version, or on a board an answer. */");
    line(
        "static inline bool sw_read_message(uint8_t *body, uint16_t length, struct sw_message *m) {");
    line("  struct sw_cursor c = {body, length, true};");
    line("  m->code = (uint8_t)sw_get(&c, 1);");
    line("  m->session = (uint32_t)sw_get(&c, 4);");
    line("  m->sequence = (uint32_t)sw_get(&c, 4);");
    line("  switch (m->code) {");
    cases(true, false, f -> read(f.field(), f.path()));
    cases(false, true, f -> read(f.field(), f.path()));
    line("    default:\n      return false;\n  }\n  return c.ok && c.left == 0;\n}\n");
    line(
        "/* Lays a message out; returns its bytes, 0 when room is too small or a length too great. */");
    line("static inline uint16_t sw_write_message(uint8_t *body, uint16_t room,");
    line("                                        const struct sw_message *m) {");
    line("  struct sw_cursor c = {body, room, true};");
    line("  sw_put(&c, 1, m->code);");
    line("  sw_put(&c, 4, m->session);");
    line("  sw_put(&c, 4, m->sequence);");
    line("  switch (m->code) {");
    cases(false, false, f -> put(f.field(), f.path()));
    cases(true, true, f -> put(f.field(), f.path()));
    line("    default:\n      return 0;\n  }\n  return c.ok ? (uint16_t)(room - c.left) : 0;\n}\n");
    line("#endif");
  }

  private record Member(Field field, String path) {}

  /** Cases of one direction; a small board leaves out what only a host reads or writes. */
  private void cases(boolean fromHost, boolean ofHost, Consumer<Member> member) {
    if (ofHost) {
      line("#ifndef __AVR__ /* only a host does this */");
    }
    for (Message m : Message.values()) {
      if (m.fromHost() == fromHost) {
        line("    case SW_%s:", m);
        m.fields().forEach(f -> member.accept(new Member(f, "m->as." + lower(m) + "." + f.name())));
        line("      break;");
      }
    }
    if (ofHost) {
      line("#endif");
    }
  }

  private void words(Message m) {
    for (Field f : m.fields()) {
      if (f.kind() == Field.Kind.CODE && !f.words().get(0).equals("0")) {
        line("enum sw_%s_%s {", lower(m), f.name());
        for (int i = 0; i < f.words().size(); i++) {
          line("  SW_%s_%s_%s = %d,", m, f.name().toUpperCase(Locale.ROOT), f.words().get(i), i);
        }
        line("};\n");
      }
    }
  }

  private void struct(Message m) {
    if (m.fields().isEmpty()) {
      return;
    }
    line("/* %s */", m.text());
    line("struct sw_%s {", lower(m));
    for (Field f : m.fields()) {
      switch (f.kind()) {
        case CODE, FLAG -> line("  uint8_t %s;", f.name());
        case U16 -> line("  uint16_t %s;", f.name());
        case U32 -> line("  uint32_t %s;", f.name());
        case I32 -> line("  int32_t %s;", f.name());
        case I64 -> line("  int64_t %s;", f.name());
        case TEXT -> line("  uint8_t %s_bytes;\n  char %s[%d];", f.name(), f.name(), f.max());
        case LIST -> line("  uint8_t %s_count;\n  int32_t %s[%d];", f.name(), f.name(), f.max());
      }
    }
    line("};\n");
  }

  private void read(Field f, String field) {
    switch (f.kind()) {
      case CODE, FLAG -> line("      %s = sw_get_upto(&c, %d);", field, f.max());
      case U16, U32, I32, I64 ->
          line("      %s = (%s)sw_get(&c, %d);", field, type(f), f.kind().bytes());
      case TEXT -> {
        line("      %s_bytes = sw_get_upto(&c, %d);", field, f.max());
        line("      if (sw_take(&c, %s_bytes)) {", field);
        line("        memcpy(%s, c.at - %s_bytes, %s_bytes);\n      }", field, field, field);
      }
      case LIST -> {
        line("      %s_count = sw_get_upto(&c, %d);", field, f.max());
        line("      for (uint8_t i = 0; i < %s_count; i++) {", field);
        line("        %s[i] = (int32_t)sw_get(&c, 4);\n      }", field);
      }
    }
  }

  private void put(Field f, String field) {
    switch (f.kind()) {
      case CODE, FLAG -> line("      sw_put(&c, 1, %s);", field);
      case U16, U32, I32, I64 ->
          line("      sw_put(&c, %d, (uint64_t)%s);", f.kind().bytes(), field);
      case TEXT -> {
        line("      c.ok = c.ok && %s_bytes <= %d;", field, f.max());
        line("      sw_put(&c, 1, %s_bytes);", field);
        line("      if (sw_take(&c, %s_bytes)) {", field);
        line("        memcpy(c.at - %s_bytes, %s, %s_bytes);\n      }", field, field, field);
      }
      case LIST -> {
        line("      c.ok = c.ok && %s_count <= %d;", field, f.max());
        line("      sw_put(&c, 1, %s_count);", field);
        line("      for (uint8_t i = 0; c.ok && i < %s_count; i++) {", field);
        line("        sw_put(&c, 4, (uint64_t)%s[i]);\n      }", field);
      }
    }
  }

  private static String type(Field f) {
    return switch (f.kind()) {
      case U16 -> "uint16_t";
      case U32 -> "uint32_t";
      case I32 -> "int32_t";
      case I64 -> "int64_t";
      default -> throw new IllegalArgumentException(f.name());
    };
  }

  private static String lower(Message m) {
    return m.name().toLowerCase(Locale.ROOT);
  }

  @SuppressWarnings("AnnotateFormatMethod") // checked: its output is compiled
  private void line(String format, Object... values) {
    out.append(values.length == 0 ? format : format.formatted(values)).append('\n');
  }
}
