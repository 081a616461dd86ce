package org.stopwell.harness.trace;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/** Checks every cell of a trace, in one pass. */
final class CsvCheck {
  private static final int MOST_MISTAKES = 20;

  /** Most columns; assumed: four frequencies, every other column and those of a replay are 23. */
  private static final int MOST_COLUMNS = 64;

  /** Longest cell, characters; assumed: three times the longest number that is read. */
  private static final int LONGEST_CELL = 64;

  /** Farthest true distance, mm: a tooth is shorter, and a value in µm is found. */
  private static final int FARTHEST_MM = 60;

  private final Path file;
  private final CsvRows rows;
  private final int mostRows;
  private final boolean truth;
  private final List<String> head;
  private final CsvColumns columns;
  private final CsvRow row;
  private final List<String> mistakes = new ArrayList<>();

  /**
   * A check.
   *
   * @param mostRows refuses more rows
   * @param truth whether every row must state the true distance
   */
  CsvCheck(Path file, CsvRows rows, int mostRows, boolean truth) throws TraceException {
    this.file = file;
    this.rows = rows;
    this.mostRows = mostRows;
    this.truth = truth;
    head = rows.head();
    if (head.size() > MOST_COLUMNS) {
      throw new TraceException(
          List.of(file + ":1: " + head.size() + " columns, must be at most " + MOST_COLUMNS));
    }
    CsvColumns read = CsvColumns.of(head, mistakes);
    if (read != null && truth && !read.truth()) {
      mistakes.add("column " + CsvColumns.TRUTH + ": missing; it states the true distance");
    }
    if (read == null || !mistakes.isEmpty()) {
      throw new TraceException(
          mistakes.stream().limit(MOST_MISTAKES).map(m -> file + ":1: " + m).toList());
    }
    columns = read;
    row = new CsvRow(head, columns);
  }

  CsvColumns columns() {
    return columns;
  }

  /**
   * Goes through the rows.
   *
   * @param to receives every row up to the first mistake; the row is reused
   * @return how many there are
   */
  int all(Consumer<CsvRow> to) throws TraceException {
    int steps = 0;
    long before = Long.MIN_VALUE;
    while (mistakes.size() < MOST_MISTAKES && rows.hasNext()) {
      row.put(rows.next());
      if (steps == mostRows) {
        mistakes.add(file + ":" + rows.line() + ": more rows than " + mostRows);
        break;
      }
      if (check()) {
        before = time(before);
      }
      steps++;
      if (mistakes.isEmpty()) {
        to.accept(row);
      }
    }
    if (steps == 0) {
      mistakes.add(file + ": no rows");
    }
    if (!mistakes.isEmpty()) {
      throw new TraceException(mistakes);
    }
    return steps;
  }

  private long time(long beforeNs) {
    try {
      long ns = row.nowNs();
      if (ns < 0 || ns <= beforeNs) {
        wrong(CsvColumns.TIME, "is not above the row before, or is below 0");
      }
      return ns;
    } catch (NumberFormatException e) {
      wrong(CsvColumns.TIME, "is not a number in ms");
    } catch (ArithmeticException e) {
      wrong(CsvColumns.TIME, "is out of range");
    }
    return beforeNs;
  }

  /** Checks a row but for its time; false when its cells are not those of the head. */
  private boolean check() {
    List<String> cells = row.cells();
    if (cells.size() != head.size()) {
      wrong(null, cells.size() + " cells, the head has " + head.size());
      return false;
    }
    for (int i = 0; i < cells.size(); i++) {
      if (cells.get(i).length() > LONGEST_CELL) {
        mistakes.add(
            file
                + ":"
                + rows.line()
                + ": "
                + head.get(i)
                + ": "
                + cells.get(i).length()
                + " characters, must be at most "
                + LONGEST_CELL);
        return false;
      }
    }
    int empty = 0;
    for (int i = 0; i < columns.frequencies().size(); i++) {
      int hz = columns.frequencies().get(i);
      empty += number(row.real(i), () -> CsvColumns.real(hz), 3) ? 0 : 1;
      empty += number(row.imaginary(i), () -> CsvColumns.imaginary(hz), 3) ? 0 : 1;
    }
    if (empty != 0 && empty != 2 * columns.frequencies().size()) {
      wrong(null, "a sample needs every impedance column, or none");
    }
    if (columns.distance() && !row.cell(CsvColumns.DISTANCE).equals(CsvColumns.NO_CONTACT)) {
      number(CsvColumns.DISTANCE, 3);
    }
    if (columns.insertion()) {
      number(CsvColumns.INSERTION, 3);
    }
    if (columns.speed()) {
      number(CsvColumns.SPEED, 3);
    }
    if (columns.torque()) {
      number(CsvColumns.TORQUE, 4);
    }
    if (columns.demand() && !List.of("0", "1", "").contains(row.cell(CsvColumns.DEMAND))) {
      wrong(CsvColumns.DEMAND, "is not 0 or 1");
    }
    if (truth) {
      truth();
    }
    return true;
  }

  private void truth() {
    int before = mistakes.size();
    if (!number(CsvColumns.TRUTH, 3)) {
      wrong(CsvColumns.TRUTH, "is not a number in mm");
    } else if (mistakes.size() == before && !(Math.abs(row.truthMicrons()) <= 1000 * FARTHEST_MM)) {
      wrong(CsvColumns.TRUTH, "is not within -" + FARTHEST_MM + " to " + FARTHEST_MM + " mm");
    }
  }

  /** Whether there is a number in a cell; what is there and is none is a mistake. */
  private boolean number(String column, int decimals) {
    return number(row.cell(column), () -> column, decimals);
  }

  private boolean number(String text, Supplier<String> column, int decimals) {
    if (text.isEmpty()) {
      return false;
    }
    try {
      CsvNumber.scaled(text, decimals);
    } catch (NumberFormatException e) {
      wrong(column.get(), "is not a number");
    } catch (ArithmeticException e) {
      wrong(column.get(), "is out of range");
    }
    return true;
  }

  private void wrong(@Nullable String column, String why) {
    mistakes.add(
        file
            + ":"
            + rows.line()
            + ": "
            + (column == null ? "" : column + ": \"" + printable(row.cell(column)) + "\" ")
            + why);
  }

  /** A control character in a cell would act on the terminal. */
  static String printable(String cell) {
    return cell.replaceAll("\\p{Cntrl}", "\uFFFD");
  }
}
