package org.stopwell.harness.plan;

import java.util.Map;

/** Writes a YAML document: groups below each other, lists and texts quoted where needed. */
final class YamlText {
  private final StringBuilder out = new StringBuilder();

  private YamlText() {}

  static String of(Yaml.Mapping top) {
    YamlText text = new YamlText();
    text.mapping(top, "");
    return text.out.toString();
  }

  private void mapping(Yaml.Mapping at, String indent) {
    for (Map.Entry<String, Yaml.Entry> key : at.entries().entrySet()) {
      out.append(indent).append(word(key.getKey())).append(':');
      value(key.getValue().value(), indent);
    }
  }

  private void value(Yaml value, String indent) {
    if (value instanceof Yaml.Mapping inside && !inside.entries().isEmpty()) {
      out.append('\n');
      mapping(inside, indent + "  ");
    } else if (value instanceof Yaml.Items list && !list.items().isEmpty()) {
      out.append('\n');
      for (Yaml item : list.items()) {
        out.append(indent).append("  -");
        value(item, indent + "  ");
      }
    } else if (value instanceof Yaml.Scalar scalar) {
      out.append(
              switch (scalar.sort()) {
                case NUMBER, FLAG -> " " + scalar.text();
                case TEXT -> " " + word(scalar.text());
                case NOTHING -> "";
              })
          .append('\n');
    } else {
      out.append(value instanceof Yaml.Items ? " []\n" : " {}\n");
    }
  }

  /** A text as it is where that is certain to be read as text, else in quotes. */
  private static String word(String text) {
    boolean plain =
        text.matches("[A-Za-z][A-Za-z0-9_./-]*")
            && !text.matches("(?i)true|false|null|yes|no|on|off|y|n");
    return plain
        ? text
        : '"'
            + text.replace("\\", "\\\\")
                .replace("\"", "\\\"")
                .replace("\n", "\\n")
                .replace("\t", " ")
            + '"';
  }
}
