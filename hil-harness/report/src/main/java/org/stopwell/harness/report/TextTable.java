package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;

/** A table for a terminal: columns as wide as their widest cell, two spaces between them. */
public final class TextTable {
  private final String alignment;
  private final List<List<String>> rows = new ArrayList<>();

  /**
   * An empty table.
   *
   * @param alignment a letter for each column: {@code l} left, {@code r} right
   */
  public TextTable(String alignment) {
    this.alignment = alignment;
  }

  /**
   * Adds a row.
   *
   * @param cells one for each column
   */
  public void row(String... cells) {
    rows.add(List.of(cells));
  }

  /**
   * Writes the table.
   *
   * @param out receives the lines
   */
  public void print(Consumer<String> out) {
    for (List<String> row : rows) {
      StringBuilder line = new StringBuilder();
      for (int i = 0; i < row.size(); i++) {
        String space = " ".repeat(width(i) - length(row.get(i)));
        line.append("  ");
        line.append(alignment.charAt(i) == 'r' ? space + row.get(i) : row.get(i) + space);
      }
      out.accept(line.toString().stripTrailing());
    }
  }

  private int width(int column) {
    return rows.stream().mapToInt(row -> length(row.get(column))).max().orElse(0);
  }

  private static int length(String cell) {
    return cell.codePointCount(0, cell.length());
  }
}
