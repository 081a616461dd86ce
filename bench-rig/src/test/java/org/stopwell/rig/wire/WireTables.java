package org.stopwell.rig.wire;

import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/** The generated parts of the protocol page: tables of the messages, and example frames. */
final class WireTables {
  private WireTables() {}

  static String messages() {
    StringBuilder page = new StringBuilder();
    for (Message message : Message.values()) {
      page.append("\n### ").append(hex(message.code())).append(' ').append(message).append("\n\n");
      page.append(message.fromHost() ? "Host to board. " : "Board to host. ");
      page.append(message.text()).append("\n\n");
      if (message.fields().isEmpty()) {
        page.append("No fields.\n");
        continue;
      }
      page.append("| field | layout | unit | meaning |\n|---|---|---|---|\n");
      for (Field field : message.fields()) {
        page.append(
            "| `%s` | %s | %s | %s |\n"
                .formatted(field.name(), layout(field), field.unit(), meaning(field)));
      }
    }
    return page.toString();
  }

  static String errors() {
    StringBuilder page = new StringBuilder("| code | meaning |\n|---|---|\n");
    for (Refusal refusal : Refusal.values()) {
      page.append("| `%s` | %s |\n".formatted(refusal, refusal.text()));
    }
    return page.toString();
  }

  static String bounds() {
    StringBuilder page =
        new StringBuilder("| field | least, ns | most, ns | reason |\n|---|---:|---:|---|\n");
    for (TimeBound bound : TimeBound.values()) {
      page.append(
          "| `%s` | %s | %s | %s |\n"
              .formatted(
                  bound.field(), spaced(bound.leastNs()), spaced(bound.mostNs()), bound.text()));
    }
    return page.toString();
  }

  private static String spaced(long number) {
    return String.format(Locale.ROOT, "%,d", number).replace(',', ' ');
  }

  static String examples() {
    StringBuilder page = new StringBuilder();
    WireExamples.all()
        .forEach(
            (text, packet) -> {
              FrameWriter writer = new FrameWriter();
              int length = writer.write(packet);
              page.append("\n").append(text).append("\n\n```\n");
              page.append(dump(writer.bytes(), length)).append("\n```\n");
            });
    return page.toString();
  }

  static String dump(byte[] bytes, int length) {
    return IntStream.range(0, length)
        .mapToObj(
            i -> "%02X".formatted(bytes[i]) + (i + 1 == length ? "" : i % 16 == 15 ? "\n" : " "))
        .collect(Collectors.joining());
  }

  private static String layout(Field field) {
    return switch (field.kind()) {
      case TEXT -> "text, at most %d bytes".formatted(field.max());
      case LIST -> "list of i32, at most %d".formatted(field.max());
      default -> field.kind().name().toLowerCase(Locale.ROOT);
    };
  }

  private static String meaning(Field field) {
    return field.words().isEmpty() || field.name().equals("decimals")
        ? field.text()
        : field.text()
            + IntStream.range(0, field.words().size())
                .mapToObj(i -> i + " `" + field.words().get(i) + "`")
                .collect(Collectors.joining(", ", " ", ""));
  }

  private static String hex(int code) {
    return "0x%02X".formatted(code);
  }
}
