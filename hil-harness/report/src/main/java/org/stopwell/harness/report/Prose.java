package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;

/** A text in which some numbers say what they are, so that the page can compute them again. */
final class Prose {
  /**
   * A part of the text.
   *
   * @param text the words or the number with its unit
   * @param is what the number is; empty for words
   */
  record Piece(String text, String is) {}

  private final List<Piece> pieces = new ArrayList<>();

  Prose text(String words) {
    pieces.add(new Piece(words, ""));
    return this;
  }

  Prose number(String number, String is) {
    pieces.add(new Piece(number, is));
    return this;
  }

  List<Piece> pieces() {
    return List.copyOf(pieces);
  }

  /** The text alone. */
  String plain() {
    return pieces.stream().map(Piece::text).collect(Collectors.joining());
  }
}
