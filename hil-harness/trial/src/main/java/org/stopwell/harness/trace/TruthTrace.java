package org.stopwell.harness.trace;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.settings.ControllerSettings;

/** A trace that states the true distance in every row, held in memory. */
public final class TruthTrace {
  /** Most rows; assumed: more than an hour of steps of 1 ms. */
  static final int MOST_ROWS = 4_000_000;

  /** Cells of a row before those of its impedances. */
  private static final int FIRST_IMPEDANCE = 8;

  private static final PositionKind[] KINDS = PositionKind.values();

  private final Path file;
  private final CsvColumns columns;
  private final int width;
  private long[] nowNs = new long[1024];
  private int[] cells;
  private int rows;

  private TruthTrace(Path file, CsvColumns columns) {
    this.file = file;
    this.columns = columns;
    width = FIRST_IMPEDANCE + 2 * columns.frequencies().size();
    cells = new int[nowNs.length * width];
  }

  /**
   * Reads a file and checks every cell.
   *
   * @param file where
   * @return the trace
   * @throws TraceException with every mistake, at most 20, each with its line
   */
  public static TruthTrace read(Path file) throws TraceException {
    return CsvTrace.guarded(
        file,
        rows -> {
          CsvCheck check = new CsvCheck(file, rows, MOST_ROWS, true);
          TruthTrace trace = new TruthTrace(file, check.columns());
          ControllerInput in = new ControllerInput();
          check.all(row -> trace.add(row, in));
          return trace;
        });
  }

  private void add(CsvRow row, ControllerInput in) {
    if (rows == nowNs.length) {
      nowNs = Arrays.copyOf(nowNs, 2 * rows);
      cells = Arrays.copyOf(cells, 2 * rows * width);
    }
    row.fill(0, in);
    nowNs[rows] = row.nowNs();
    int at = rows * width;
    cells[at] = row.sampled() ? in.positionKind.ordinal() : -1;
    cells[at + 1] = row.truthMicrons();
    cells[at + 2] = in.distanceMicrons;
    cells[at + 3] = in.insertionPresent ? 1 : 0;
    cells[at + 4] = in.insertionMicrons;
    cells[at + 5] = in.speedMilliRpm;
    cells[at + 6] = in.torqueMicroNewtonMetres;
    cells[at + 7] = in.demand ? 1 : 0;
    for (int i = 0; i < columns.frequencies().size(); i++) {
      cells[at + FIRST_IMPEDANCE + 2 * i] = in.zRealMilliOhms[i];
      cells[at + FIRST_IMPEDANCE + 2 * i + 1] = in.zImagMilliOhms[i];
    }
    rows++;
  }

  /**
   * Refuses settings that need another signal than the trace has.
   *
   * @param settings the settings of the controller
   * @throws TraceException with what the trace has and what the settings need
   */
  public void check(ControllerSettings settings) throws TraceException {
    CsvTrace.check(file, columns, settings);
  }

  /**
   * How many rows there are.
   *
   * @return at least 1
   */
  public int rows() {
    return rows;
  }

  /**
   * The frequencies of the impedance.
   *
   * @return ascending, Hz; none for a trace of an outside locator
   */
  public List<Integer> frequencies() {
    return columns.frequencies();
  }

  /**
   * The time of a row.
   *
   * @param row from 0
   * @return ns, more than in the row before
   */
  public long nowNs(int row) {
    return nowNs[row];
  }

  /**
   * Whether a row has a new sample of the position.
   *
   * @param row from 0
   * @return false where its position cells are empty
   */
  public boolean sampled(int row) {
    return cells[row * width] >= 0;
  }

  /**
   * The true distance from the tip to the foramen.
   *
   * @param row from 0
   * @return µm, negative past the foramen
   */
  public int truthMicrons(int row) {
    return cells[row * width + 1];
  }

  /**
   * The true distance at any time, on a straight line between two rows.
   *
   * @param atNs a time; before the first row and after the last their distance counts, ns
   * @return µm, negative past the foramen
   */
  public int truthMicrons(long atNs) {
    int found = Arrays.binarySearch(nowNs, 0, rows, atNs);
    if (found >= 0) {
      return truthMicrons(found);
    }
    int above = -found - 1;
    if (above == 0 || above == rows) {
      return truthMicrons(above == 0 ? 0 : rows - 1);
    }
    double share = (double) (atNs - nowNs[above - 1]) / (nowNs[above] - nowNs[above - 1]);
    int from = truthMicrons(above - 1);
    return from + (int) Math.rint(share * (truthMicrons(above) - from));
  }

  /**
   * The least true distance between two times.
   *
   * @param fromNs from then on, ns
   * @param toNs until then, ns
   * @return µm, negative past the foramen
   */
  public int deepestMicrons(long fromNs, long toNs) {
    int deepest = Math.min(truthMicrons(fromNs), truthMicrons(toNs));
    for (int row = 0; row < rows; row++) {
      if (nowNs[row] >= fromNs && nowNs[row] <= toNs) {
        deepest = Math.min(deepest, truthMicrons(row));
      }
    }
    return deepest;
  }

  /**
   * The columns of the file.
   *
   * @return what was given
   */
  public CsvColumns columns() {
    return columns;
  }

  /**
   * Real part of the impedance.
   *
   * @param row from 0, with a sample
   * @param frequency index in {@link #frequencies}
   * @return mΩ
   */
  public int zRealMilliOhms(int row, int frequency) {
    return cells[row * width + FIRST_IMPEDANCE + 2 * frequency];
  }

  /**
   * Imaginary part of the impedance.
   *
   * @param row from 0, with a sample
   * @param frequency index in {@link #frequencies}
   * @return mΩ
   */
  public int zImagMilliOhms(int row, int frequency) {
    return cells[row * width + FIRST_IMPEDANCE + 2 * frequency + 1];
  }

  /**
   * Fills in the inputs of the controller from a row.
   *
   * @param row from 0
   * @param commandedMilliRpm speed commanded in the step before, signed, milli-rpm
   * @param in overwritten, except that a sample stays until the next one comes
   */
  public void fill(int row, int commandedMilliRpm, ControllerInput in) {
    int at = row * width;
    if (cells[at] >= 0) {
      in.sampleSequence++;
      in.sampleTimeNs = nowNs[row];
      in.positionKind = KINDS[cells[at]];
      in.distanceMicrons = cells[at + 2];
      in.frequencyCount = columns.frequencies().size();
      for (int i = 0; i < in.frequencyCount; i++) {
        in.frequencyHz[i] = columns.frequencies().get(i);
        in.zRealMilliOhms[i] = cells[at + FIRST_IMPEDANCE + 2 * i];
        in.zImagMilliOhms[i] = cells[at + FIRST_IMPEDANCE + 2 * i + 1];
      }
    }
    in.insertionPresent = cells[at + 3] == 1;
    in.insertionMicrons = cells[at + 4];
    in.speedMilliRpm = columns.speed() ? cells[at + 5] : commandedMilliRpm;
    in.torqueMicroNewtonMetres = cells[at + 6];
    in.demand = cells[at + 7] == 1;
  }
}
