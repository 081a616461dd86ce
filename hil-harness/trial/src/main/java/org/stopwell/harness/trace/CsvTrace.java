package org.stopwell.harness.trace;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.input.InputFile;

/**
 * A trace from a CSV file. A row without a position has no new sample; without {@code speed_rpm}
 * the motor is assumed to turn at the commanded speed. The file is read row by row and never held
 * as a whole.
 */
public final class CsvTrace {
  /** Most rows; assumed: a day of steps of 1 ms. */
  private static final int MOST_ROWS = 100_000_000;

  /** Largest file, bytes; assumed: all rows with 100 characters. */
  private static final long MOST_BYTES = 10_000_000_000L;

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
    return guarded(
        file,
        rows -> {
          CsvCheck check = new CsvCheck(file, rows, MOST_ROWS, false);
          int steps = check.all(row -> {});
          return new CsvTrace(file, rows.head(), check.columns(), steps);
        });
  }

  /** What is done with the rows of a file. */
  @FunctionalInterface
  interface Use<T> {
    T of(CsvRows rows) throws TraceException;
  }

  /** Opens a file for one use; whatever is wrong with it is a mistake that names it. */
  static <T> T guarded(Path file, Use<T> use) throws TraceException {
    try {
      Optional<String> fault = InputFile.fault(file, MOST_BYTES);
      if (fault.isPresent()) {
        throw new TraceException(List.of(file + ": " + fault.get()));
      }
      try (CsvRows rows = new CsvRows(file)) {
        return use.of(rows);
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

  /**
   * How many rows there are.
   *
   * @return at least 1
   */
  public int steps() {
    return steps;
  }

  /**
   * The first row of the file.
   *
   * @return the names of the columns
   */
  public List<String> head() {
    return head;
  }

  /**
   * The columns of the file.
   *
   * @return what is given
   */
  public CsvColumns columns() {
    return columns;
  }

  /**
   * Refuses settings that need another signal than the trace has: with them the controller would
   * stay off for the whole trace.
   *
   * @param settings the settings of the controller
   * @throws TraceException with what the trace has and what the settings need
   */
  public void check(ControllerSettings settings) throws TraceException {
    check(file, columns, settings);
  }

  static void check(Path file, CsvColumns columns, ControllerSettings settings)
      throws TraceException {
    boolean distance = settings.sensing().signal() == PositionKind.DISTANCE;
    List<Integer> needed = Arrays.stream(settings.sensedHertz()).boxed().toList();
    if (distance != columns.distance() || !columns.frequencies().containsAll(needed)) {
      throw new TraceException(
          List.of(
              file
                  + ": holds "
                  + CsvColumns.signal(columns.distance(), columns.frequencies())
                  + "; the settings (sense.policy) need "
                  + CsvColumns.signal(distance, needed)
                  + ". Name settings for the signal of the trace"));
    }
  }

  /**
   * Reads the checked file again, from its first row.
   *
   * @return its steps
   * @throws IOException when it cannot be opened any more
   */
  public Steps replayed() throws IOException {
    return new Steps();
  }

  /** The steps of the trace, one after the other. */
  public final class Steps implements AutoCloseable {
    private final CsvRows rows = new CsvRows(file);
    private final CsvRow row = new CsvRow(head, columns);
    private int done;

    private Steps() throws IOException {}

    /**
     * Goes to the next row.
     *
     * @return false after the last row that was checked
     * @throws IOException when the file changed since it was checked
     */
    public boolean next() throws IOException {
      if (done == steps) {
        return false;
      }
      try {
        if (rows.hasNext()) {
          row.put(rows.next());
          done++;
          if (row.cells().size() == head.size()) {
            return true;
          }
        }
      } catch (UncheckedIOException e) {
        throw new IOException(file + ": changed while it was replayed", e);
      }
      throw new IOException(file + ": changed while it was replayed");
    }

    /**
     * The row as it was written.
     *
     * @return one text per column
     */
    public List<String> written() {
      return row.cells();
    }

    /**
     * The time of the row.
     *
     * @return ns
     */
    public long nowNs() {
      return row.nowNs();
    }

    /**
     * Fills in the inputs of the controller from the row.
     *
     * @param commandedMilliRpm speed commanded in the row before, signed, milli-rpm
     * @param in overwritten, except that a sample stays until the next one comes
     */
    public void fill(int commandedMilliRpm, ControllerInput in) {
      row.fill(commandedMilliRpm, in);
    }

    @Override
    public void close() throws IOException {
      rows.close();
    }
  }
}
