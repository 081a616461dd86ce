package org.stopwell.harness.replay;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.apache.commons.csv.DuplicateHeaderMode;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.input.InputFile;

/**
 * A trace from a CSV file: one step per row. A row without a position has no new sample; without
 * {@code speed_rpm} the motor is assumed to turn at the commanded speed. The file is read row by
 * row and never held as a whole.
 */
public final class CsvTrace {
  private static final int MOST_MISTAKES = 20;

  /** Most columns; assumed: four frequencies, every other column and those of a replay are 22. */
  private static final int MOST_COLUMNS = 64;

  /** Most rows; assumed: a day of steps of 1 ms. */
  private static final int MOST_ROWS = 100_000_000;

  /** Longest cell, characters; assumed: three times the longest number that is read. */
  private static final int LONGEST_CELL = 64;

  /** Largest file, bytes; assumed: all rows with 100 characters. */
  private static final long MOST_BYTES = 10_000_000_000L;

  /** Decimal places of a number at most; assumed: beyond what any instrument prints. */
  private static final int MOST_DECIMALS = 100;

  private final Path file;
  private final List<String> head;
  private final CsvColumns columns;
  private final int steps;

  private CsvTrace(Path file, List<String> head, CsvColumns columns, int steps) {
    this.file = file;
    this.head = head;
    this.columns = columns;
    this.steps = steps;
  }

  /**
   * Reads a file and checks every cell before anything is replayed.
   *
   * @param file where
   * @return the trace
   * @throws TraceException with every mistake, at most 20, each with its line
   */
  public static CsvTrace read(Path file) throws TraceException {
    try {
      Optional<String> fault = InputFile.fault(file, MOST_BYTES);
      if (fault.isPresent()) {
        throw new TraceException(List.of(file + ": " + fault.get()));
      }
      try (CsvRows rows = new CsvRows(file)) {
        return new Reader(file, rows).read();
      }
    } catch (IOException | UncheckedIOException | IllegalArgumentException e) {
      throw failed(file, e);
    }
  }

  private static TraceException failed(Path file, Exception e) {
    Exception cause =
        e instanceof UncheckedIOException unchecked && unchecked.getCause() != null
            ? unchecked.getCause()
            : e;
    String why = InputFile.reason(cause);
    return new TraceException(
        List.of(
            file
                + ": "
                + (why.startsWith("no such") || why.startsWith("is not")
                    ? why
                    : "cannot be read: " + why)));
  }

  /** The rows of the file, one after the other; memory holds one of them. */
  static final class CsvRows implements AutoCloseable {
    private final BoundedReader text;
    private final CSVParser parser;
    private final Iterator<CSVRecord> records;

    CsvRows(Path file) throws IOException {
      CSVFormat format =
          CSVFormat.DEFAULT
              .builder()
              .setHeader()
              .setDuplicateHeaderMode(DuplicateHeaderMode.DISALLOW)
              .setSkipHeaderRecord(true)
              .setIgnoreSurroundingSpaces(true)
              .setIgnoreEmptyLines(true)
              .get();
      text = new BoundedReader(Files.newBufferedReader(file, StandardCharsets.UTF_8));
      try {
        parser = CSVParser.builder().setReader(text).setFormat(format).get();
      } catch (IOException | RuntimeException e) {
        text.close();
        throw e;
      }
      records = parser.iterator();
    }

    List<String> head() {
      return parser.getHeaderNames().stream().map(String::strip).toList();
    }

    boolean hasNext() {
      text.allowRow();
      return records.hasNext();
    }

    CSVRecord next() {
      return records.next();
    }

    @Override
    public void close() throws IOException {
      parser.close();
    }
  }

  /**
   * How many rows there are.
   *
   * @return at least 1
   */
  public int steps() {
    return steps;
  }

  /**
   * Refuses settings that need another signal than the trace has: with them the controller would
   * stay off for the whole trace.
   *
   * @param settings the settings of the controller
   * @throws TraceException with what the trace has and what the settings need
   */
  void check(ControllerSettings settings) throws TraceException {
    boolean distance = settings.sensing().signal() == PositionKind.DISTANCE;
    List<Integer> needed = Arrays.stream(settings.sensedHertz()).boxed().toList();
    if (distance != columns.distance() || !columns.frequencies().containsAll(needed)) {
      throw new TraceException(
          List.of(
              file
                  + ": holds "
                  + signal(columns.distance(), columns.frequencies())
                  + "; the settings (sense.policy) need "
                  + signal(distance, needed)
                  + ". Name settings for the signal of the trace"));
    }
  }

  private static String signal(boolean distance, List<Integer> hertz) {
    return distance
        ? CsvColumns.DISTANCE
        : "impedance at " + String.join(", ", hertz.stream().map(String::valueOf).toList()) + " Hz";
  }

  List<String> head() {
    return head;
  }

  /** Reads the checked file again, from its first row. */
  Steps replayed() throws IOException {
    return new Steps();
  }

  /** The steps of the trace, one after the other. */
  final class Steps implements AutoCloseable {
    private final CsvRows rows = new CsvRows(file);
    private List<String> cells = List.of();
    private int done;

    private Steps() throws IOException {}

    /**
     * Goes to the next row.
     *
     * @return false after the last row that was checked
     * @throws IOException when the file changed since it was checked
     */
    boolean next() throws IOException {
      if (done == steps) {
        return false;
      }
      try {
        if (rows.hasNext()) {
          cells = stripped(rows.next());
          done++;
          if (cells.size() == head.size()) {
            return true;
          }
        }
      } catch (UncheckedIOException e) {
        throw new IOException(file + ": changed while it was replayed", e);
      }
      throw new IOException(file + ": changed while it was replayed");
    }

    /** The row as it was written. */
    List<String> written() {
      return cells;
    }

    private String cell(String column) {
      return cells.get(head.indexOf(column));
    }

    /** The time of the row, ns. */
    long nowNs() {
      return scaledLong(cell(CsvColumns.TIME), 6);
    }

    /**
     * Fills in the inputs of the controller from the row.
     *
     * @param commandedMilliRpm speed commanded in the row before, signed, milli-rpm
     * @param in overwritten, except that a sample stays until the next one comes
     */
    void fill(int commandedMilliRpm, ControllerInput in) {
      String first =
          columns.distance() ? CsvColumns.DISTANCE : CsvColumns.real(columns.frequencies().get(0));
      if (!cell(first).isEmpty()) {
        in.sampleSequence++;
        in.sampleTimeNs = nowNs();
        if (columns.distance()) {
          String shown = cell(CsvColumns.DISTANCE);
          boolean contact = !shown.equals(CsvColumns.NO_CONTACT);
          in.positionKind = contact ? PositionKind.DISTANCE : PositionKind.NO_CONTACT;
          in.distanceMicrons = contact ? scaled(shown, 3) : 0;
        } else {
          in.positionKind = PositionKind.IMPEDANCE;
          in.frequencyCount = columns.frequencies().size();
          for (int i = 0; i < in.frequencyCount; i++) {
            int hz = columns.frequencies().get(i);
            in.frequencyHz[i] = hz;
            in.zRealMilliOhms[i] = scaled(cell(CsvColumns.real(hz)), 3);
            in.zImagMilliOhms[i] = scaled(cell(CsvColumns.imaginary(hz)), 3);
          }
        }
      }
      in.speedMilliRpm = columns.speed() ? scaled(cell(CsvColumns.SPEED), 3) : commandedMilliRpm;
      in.torqueMicroNewtonMetres = columns.torque() ? scaled(cell(CsvColumns.TORQUE), 4) : 0;
      in.demand = !columns.demand() || !cell(CsvColumns.DEMAND).equals("0");
    }

    @Override
    public void close() throws IOException {
      rows.close();
    }
  }

  private static List<String> stripped(CSVRecord row) {
    List<String> cells = new ArrayList<>(row.size());
    for (String cell : row) {
      cells.add(cell.strip());
    }
    return cells;
  }

  private static int scaled(String text, int decimals) {
    return text.isEmpty() ? 0 : Math.toIntExact(scaledLong(text, decimals));
  }

  private static long scaledLong(String text, int decimals) {
    BigDecimal number = new BigDecimal(text);
    // An exponent of nine digits would be written out.
    if (!((long) number.precision() - number.scale() <= 19 && number.scale() <= MOST_DECIMALS)) {
      throw new ArithmeticException("out of range");
    }
    return number.movePointRight(decimals).setScale(0, RoundingMode.HALF_EVEN).longValueExact();
  }

  /** Checks every cell before anything is replayed. */
  private static final class Reader {
    private final Path file;
    private final CsvRows rows;
    private final List<String> head;
    private final List<String> mistakes = new ArrayList<>();
    private List<String> cells = List.of();
    private long line;

    Reader(Path file, CsvRows rows) {
      this.file = file;
      this.rows = rows;
      this.head = rows.head();
    }

    CsvTrace read() throws TraceException {
      if (head.size() > MOST_COLUMNS) {
        throw new TraceException(
            List.of(file + ":1: " + head.size() + " columns, must be at most " + MOST_COLUMNS));
      }
      CsvColumns columns = CsvColumns.of(head, mistakes);
      if (columns == null) {
        throw new TraceException(
            mistakes.stream().limit(MOST_MISTAKES).map(m -> file + ":1: " + m).toList());
      }
      int steps = 0;
      long before = Long.MIN_VALUE;
      while (mistakes.size() < MOST_MISTAKES && rows.hasNext()) {
        CSVRecord row = rows.next();
        cells = stripped(row);
        line = row.getRecordNumber() + 1;
        if (steps == MOST_ROWS) {
          mistakes.add(file + ":" + line + ": more rows than " + MOST_ROWS);
          break;
        }
        if (check(columns)) {
          before = time(before);
        }
        steps++;
      }
      if (steps == 0) {
        mistakes.add(file + ": no rows");
      }
      if (!mistakes.isEmpty()) {
        throw new TraceException(mistakes);
      }
      return new CsvTrace(file, head, columns, steps);
    }

    private String cell(String column) {
      return cells.get(head.indexOf(column));
    }

    private long time(long beforeNs) {
      try {
        long ns = scaledLong(cell(CsvColumns.TIME), 6);
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
    private boolean check(CsvColumns columns) {
      if (cells.size() != head.size()) {
        wrong(null, cells.size() + " cells, the head has " + head.size());
        return false;
      }
      for (int i = 0; i < cells.size(); i++) {
        if (cells.get(i).length() > LONGEST_CELL) {
          mistakes.add(
              file
                  + ":"
                  + line
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
      for (int hz : columns.frequencies()) {
        empty += number(CsvColumns.real(hz), 3) ? 0 : 1;
        empty += number(CsvColumns.imaginary(hz), 3) ? 0 : 1;
      }
      if (empty != 0 && empty != 2 * columns.frequencies().size()) {
        wrong(null, "a sample needs every impedance column, or none");
      }
      if (columns.distance() && !cell(CsvColumns.DISTANCE).equals(CsvColumns.NO_CONTACT)) {
        number(CsvColumns.DISTANCE, 3);
      }
      if (columns.speed()) {
        number(CsvColumns.SPEED, 3);
      }
      if (columns.torque()) {
        number(CsvColumns.TORQUE, 4);
      }
      if (columns.demand() && !List.of("0", "1", "").contains(cell(CsvColumns.DEMAND))) {
        wrong(CsvColumns.DEMAND, "is not 0 or 1");
      }
      return true;
    }

    /** Whether there is a number in a cell; what is there and is none is a mistake. */
    private boolean number(String column, int decimals) {
      String text = cell(column);
      if (text.isEmpty()) {
        return false;
      }
      try {
        scaled(text, decimals);
      } catch (NumberFormatException e) {
        wrong(column, "is not a number");
      } catch (ArithmeticException e) {
        wrong(column, "is out of range");
      }
      return true;
    }

    private void wrong(@Nullable String column, String why) {
      mistakes.add(
          file
              + ":"
              + line
              + ": "
              + (column == null ? "" : column + ": \"" + printable(cell(column)) + "\" ")
              + why);
    }

    /** A control character in a cell would act on the terminal. */
    private static String printable(String cell) {
      return cell.replaceAll("\\p{Cntrl}", "\uFFFD");
    }
  }
}
