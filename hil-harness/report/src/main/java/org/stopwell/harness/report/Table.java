package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** A table of the page. The first cell of each row is its head. */
final class Table {
  /** Where the cells of a column stand: a style of the page. */
  static final String LEFT = "left";

  static final String NUMBER = "number";

  /** A column of whole sentences, which needs width. */
  static final String SENTENCE = "sentence";

  record Column(String name, String style) {}

  /**
   * One cell.
   *
   * @param main its text or number
   * @param small what stands below in small type, may be empty
   */
  record Cell(Prose main, Prose small) {
    static Cell of(String text) {
      return new Cell(Prose.of(text), new Prose());
    }

    static Cell of(String text, String small) {
      return new Cell(Prose.of(text), Prose.of(small));
    }

    /** A number that the page can compute again. */
    static Cell number(String text, String is) {
      return new Cell(new Prose().number(text, is), new Prose());
    }
  }

  private final String name;
  private final String caption;
  private final List<Column> columns = new ArrayList<>();
  private final List<List<Cell>> rows = new ArrayList<>();
  private List<Cell> foot = List.of();

  /** A table whose name for screen readers is its caption. */
  Table(String caption) {
    this(caption, caption);
  }

  Table(String name, String caption) {
    this.name = name;
    this.caption = Words.tied(caption);
  }

  Table columns(String style, String... names) {
    Arrays.stream(names).forEach(n -> columns.add(new Column(n, style)));
    return this;
  }

  Table row(String... texts) {
    return row(Arrays.stream(texts).map(Cell::of).toList());
  }

  Table row(List<Cell> cells) {
    rows.add(List.copyOf(cells));
    return this;
  }

  /** A last row that sums up the others. */
  Table foot(List<Cell> cells) {
    foot = List.copyOf(cells);
    return this;
  }

  String name() {
    return name;
  }

  String caption() {
    return caption;
  }

  /** Many columns of numbers leave the heads of rows little room. */
  String style() {
    return columns.stream().anyMatch(c -> c.style().equals(NUMBER)) ? "wide" : "text";
  }

  List<Column> columns() {
    return columns;
  }

  List<List<Cell>> rows() {
    return rows;
  }

  List<Cell> foot() {
    return foot;
  }
}
