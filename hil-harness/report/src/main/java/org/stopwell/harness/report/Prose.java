package org.stopwell.harness.report;

import gg.jte.Content;
import gg.jte.TemplateOutput;
import gg.jte.html.escape.Escape;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;

/** A text in which some numbers say what they are, so that the page can compute them again. */
final class Prose implements Content {
  /**
   * A part of the text.
   *
   * @param text the words or the number with its unit
   * @param is what the number is; empty for words
   * @param address where a link leads; empty for other text
   */
  private record Piece(String text, String is, String address) {}

  private final List<Piece> pieces = new ArrayList<>();

  static Prose of(String words) {
    return new Prose().text(words);
  }

  Prose text(String words) {
    if (!words.isEmpty()) {
      pieces.add(new Piece(words, "", ""));
    }
    return this;
  }

  Prose number(String number, String is) {
    pieces.add(new Piece(number, is, ""));
    return this;
  }

  /** Words that lead to another page of the console. */
  Prose link(String words, String address) {
    pieces.add(new Piece(words, "", address));
    return this;
  }

  boolean isEmpty() {
    return pieces.isEmpty();
  }

  /** The text alone. */
  String plain() {
    return pieces.stream().map(Piece::text).collect(Collectors.joining());
  }

  @Override
  public void writeTo(TemplateOutput output) {
    for (Piece piece : pieces) {
      if (!piece.is().isEmpty()) {
        output.writeContent("<span data-is=\"");
        Escape.htmlAttribute(piece.is(), output);
        output.writeContent("\">");
      }
      if (!piece.address().isEmpty()) {
        output.writeContent("<a href=\"");
        Escape.htmlAttribute(piece.address(), output);
        output.writeContent("\">");
      }
      Escape.htmlContent(Words.tied(piece.text()), output);
      if (!piece.address().isEmpty()) {
        output.writeContent("</a>");
      }
      if (!piece.is().isEmpty()) {
        output.writeContent("</span>");
      }
    }
  }
}
