package org.stopwell.harness.report;

import java.util.ArrayDeque;
import java.util.Deque;

/**
 * Writes SVG and XML. Every text and every attribute is escaped here and nowhere else, and what is
 * opened is closed.
 */
final class Markup {
  private final StringBuilder out = new StringBuilder(1 << 16);
  private final Deque<String> open = new ArrayDeque<>();

  /** Opens an element on a line of its own. Attributes are name, value, name, value. */
  Markup start(String tag, String... attributes) {
    newLine();
    return startInline(tag, attributes);
  }

  /** Opens an element within a line of text. */
  Markup startInline(String tag, String... attributes) {
    tag(tag, attributes);
    out.append('>');
    open.push(tag);
    return this;
  }

  /** Closes the element that was opened last. */
  Markup end() {
    out.append("</").append(open.pop()).append('>');
    return this;
  }

  /** A whole element with nothing but text in it, on a line of its own. */
  Markup element(String tag, String text, String... attributes) {
    return start(tag, attributes).text(text).end();
  }

  /** An element without content. */
  Markup leaf(String tag, String... attributes) {
    newLine();
    tag(tag, attributes);
    out.append("/>");
    return this;
  }

  /** Text, whatever it holds. */
  Markup text(String text) {
    escape(text);
    return this;
  }

  /** Our own constant text that must not be escaped, such as a document type. */
  Markup trusted(String constant) {
    newLine();
    out.append(constant);
    return this;
  }

  @Override
  public String toString() {
    if (!open.isEmpty()) {
      throw new IllegalStateException("<" + open.peek() + "> is not closed");
    }
    return out.append('\n').toString();
  }

  private void newLine() {
    if (out.length() > 0) {
      out.append('\n');
    }
  }

  private void tag(String tag, String... attributes) {
    out.append('<').append(tag);
    for (int i = 0; i < attributes.length; i += 2) {
      out.append(' ').append(attributes[i]).append("=\"");
      escape(attributes[i + 1]);
      out.append('"');
    }
  }

  private void escape(String text) {
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      switch (c) {
        case '&' -> out.append("&amp;");
        case '<' -> out.append("&lt;");
        case '>' -> out.append("&gt;");
        case '"' -> out.append("&quot;");
        case '\'' -> out.append("&#39;");
        case '\n', '\t' -> out.append(c);
        default -> i += appendCharacter(text, i);
      }
    }
  }

  /** Characters that XML 1.0 (section 2.2) has no place for become the replacement character. */
  private int appendCharacter(String text, int at) {
    int point = text.codePointAt(at);
    boolean allowed =
        (point >= 0x20 && point <= 0xD7FF)
            || (point >= 0xE000 && point <= 0xFFFD)
            || (point >= 0x10000 && point <= 0x10FFFF);
    out.appendCodePoint(allowed ? point : 0xFFFD);
    return Character.charCount(point) - 1;
  }
}
