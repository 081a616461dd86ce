package org.stopwell.harness.replay;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.MalformedInputException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.apache.commons.csv.DuplicateHeaderMode;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.settings.ControllerSettings;

/**
 * A trace from a CSV file: one step per row. A row without a position has no new sample; without
 * {@code speed_rpm} the motor is assumed to turn at the commanded speed.
 */
public final class CsvTrace {
  private static final int MOST_MISTAKES = 20;

  private final Path file;
  private final List<String> head;
  private final List<CSVRecord> rows;
  private final CsvColumns columns;
  private final long[] timesNs;

  private CsvTrace(
      Path file, List<String> head, List<CSVRecord> rows, CsvColumns columns, long[] timesNs) {
    this.file = file;
    this.head = head;
    this.rows = rows;
    this.columns = columns;
    this.timesNs = timesNs;
  }

  /**
   * Reads a file.
   *
   * @param file where
   * @return the trace
   * @throws TraceException with every mistake, at most 20, each with its line
   */
  public static CsvTrace read(Path file) throws TraceException {
    CSVFormat format =
        CSVFormat.DEFAULT
            .builder()
            .setHeader()
            .setDuplicateHeaderMode(DuplicateHeaderMode.DISALLOW)
            .setSkipHeaderRecord(true)
            .setTrim(true)
            .setIgnoreEmptyLines(true)
            .get();
    try (CSVParser parser = CSVParser.parse(withoutMark(Files.readString(file)), format)) {
      return new Reader(file, parser).read();
    } catch (NoSuchFileException e) {
      throw new TraceException(List.of(file + ": no such file"));
    } catch (MalformedInputException e) {
      throw new TraceException(List.of(file + ": is not UTF-8 text"));
    } catch (IOException | UncheckedIOException | IllegalArgumentException e) {
      throw new TraceException(List.of(file + ": cannot be read: " + e.getMessage()));
    }
  }

  private static String withoutMark(String text) {
    return text.startsWith("\uFEFF") ? text.substring(1) : text;
  }

  /**
   * How many rows there are.
   *
   * @return at least 1
   */
  public int steps() {
    return rows.size();
  }

  /**
   * The time of a row.
   *
   * @param row from 0
   * @return ns
   */
  public long nowNs(int row) {
    return timesNs[row];
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

  List<String> written(int row) {
    return List.copyOf(rows.get(row).toList());
  }

  /**
   * Fills in the inputs of the controller from a row.
   *
   * @param row from 0, each once and in order
   * @param commandedMilliRpm speed commanded in the row before, signed, milli-rpm
   * @param in overwritten, except that a sample stays until the next one comes
   */
  public void fill(int row, int commandedMilliRpm, ControllerInput in) {
    CSVRecord record = rows.get(row);
    String first =
        columns.distance() ? CsvColumns.DISTANCE : CsvColumns.real(columns.frequencies().get(0));
    if (!record.get(first).isEmpty()) {
      in.sampleSequence++;
      in.sampleTimeNs = timesNs[row];
      if (columns.distance()) {
        String shown = record.get(CsvColumns.DISTANCE);
        boolean contact = !shown.equals(CsvColumns.NO_CONTACT);
        in.positionKind = contact ? PositionKind.DISTANCE : PositionKind.NO_CONTACT;
        in.distanceMicrons = contact ? scaled(shown, 3) : 0;
      } else {
        in.positionKind = PositionKind.IMPEDANCE;
        in.frequencyCount = columns.frequencies().size();
        for (int i = 0; i < in.frequencyCount; i++) {
          int hz = columns.frequencies().get(i);
          in.frequencyHz[i] = hz;
          in.zRealMilliOhms[i] = scaled(record.get(CsvColumns.real(hz)), 3);
          in.zImagMilliOhms[i] = scaled(record.get(CsvColumns.imaginary(hz)), 3);
        }
      }
    }
    in.speedMilliRpm =
        columns.speed() ? scaled(record.get(CsvColumns.SPEED), 3) : commandedMilliRpm;
    in.torqueMicroNewtonMetres = columns.torque() ? scaled(record.get(CsvColumns.TORQUE), 4) : 0;
    in.demand = !columns.demand() || !record.get(CsvColumns.DEMAND).equals("0");
  }

  private static int scaled(String text, int decimals) {
    return text.isEmpty()
        ? 0
        : new BigDecimal(text)
            .movePointRight(decimals)
            .setScale(0, RoundingMode.HALF_EVEN)
            .intValueExact();
  }

  /** Checks every cell before anything is replayed. */
  private static final class Reader {
    private final Path file;
    private final CSVParser parser;
    private final List<String> mistakes = new ArrayList<>();

    Reader(Path file, CSVParser parser) {
      this.file = file;
      this.parser = parser;
    }

    CsvTrace read() throws TraceException {
      List<String> head = parser.getHeaderNames();
      CsvColumns columns = CsvColumns.of(head, mistakes);
      if (columns == null) {
        throw new TraceException(mistakes.stream().map(m -> file + ":1: " + m).toList());
      }
      List<CSVRecord> rows = new ArrayList<>();
      for (CSVRecord record : parser) {
        rows.add(record);
      }
      long[] timesNs = new long[rows.size()];
      for (int i = 0; i < timesNs.length && mistakes.size() < MOST_MISTAKES; i++) {
        check(rows.get(i), columns);
        timesNs[i] = time(rows.get(i), i == 0 ? Long.MIN_VALUE : timesNs[i - 1]);
      }
      if (rows.isEmpty()) {
        mistakes.add(file + ": no rows");
      }
      if (!mistakes.isEmpty()) {
        throw new TraceException(mistakes);
      }
      return new CsvTrace(file, head, rows, columns, timesNs);
    }

    private long time(CSVRecord row, long beforeNs) {
      if (!row.isSet(CsvColumns.TIME)) {
        return beforeNs;
      }
      try {
        long ns =
            new BigDecimal(row.get(CsvColumns.TIME))
                .movePointRight(6)
                .setScale(0, RoundingMode.HALF_EVEN)
                .longValueExact();
        if (ns < 0 || ns <= beforeNs) {
          wrong(row, CsvColumns.TIME, "is not above the row before, or is below 0");
        }
        return ns;
      } catch (NumberFormatException e) {
        wrong(row, CsvColumns.TIME, "is not a number in ms");
      } catch (ArithmeticException e) {
        wrong(row, CsvColumns.TIME, "is out of range");
      }
      return beforeNs;
    }

    private void check(CSVRecord row, CsvColumns columns) {
      if (!row.isConsistent()) {
        wrong(row, null, row.size() + " cells, the head has " + parser.getHeaderNames().size());
        return;
      }
      int empty = 0;
      for (int hz : columns.frequencies()) {
        empty += number(row, CsvColumns.real(hz), 3) ? 0 : 1;
        empty += number(row, CsvColumns.imaginary(hz), 3) ? 0 : 1;
      }
      if (empty != 0 && empty != 2 * columns.frequencies().size()) {
        wrong(row, null, "a sample needs every impedance column, or none");
      }
      if (columns.distance() && !row.get(CsvColumns.DISTANCE).equals(CsvColumns.NO_CONTACT)) {
        number(row, CsvColumns.DISTANCE, 3);
      }
      if (columns.speed()) {
        number(row, CsvColumns.SPEED, 3);
      }
      if (columns.torque()) {
        number(row, CsvColumns.TORQUE, 4);
      }
      if (columns.demand() && !List.of("0", "1", "").contains(row.get(CsvColumns.DEMAND))) {
        wrong(row, CsvColumns.DEMAND, "is not 0 or 1");
      }
    }

    /** Whether there is a number in a cell; what is there and is none is a mistake. */
    private boolean number(CSVRecord row, String column, int decimals) {
      String text = row.get(column);
      if (text.isEmpty()) {
        return false;
      }
      try {
        scaled(text, decimals);
      } catch (NumberFormatException e) {
        wrong(row, column, "is not a number");
      } catch (ArithmeticException e) {
        wrong(row, column, "is out of range");
      }
      return true;
    }

    private void wrong(CSVRecord row, @Nullable String column, String why) {
      mistakes.add(
          file
              + ":"
              + (row.getRecordNumber() + 1)
              + ": "
              + (column == null ? "" : column + ": \"" + row.get(column) + "\" ")
              + why);
    }
  }
}
