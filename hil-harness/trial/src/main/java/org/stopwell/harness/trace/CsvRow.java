package org.stopwell.harness.trace;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;

/** One row of a trace, already checked. */
final class CsvRow {
  private final CsvColumns columns;
  private final Map<String, Integer> places = new HashMap<>();

  // A name is looked up once and not in every row.
  private final int time;
  private final int first;
  private final int[] real;
  private final int[] imaginary;
  private List<String> cells = List.of();

  CsvRow(List<String> head, CsvColumns columns) {
    this.columns = columns;
    for (int i = 0; i < head.size(); i++) {
      places.put(head.get(i), i);
    }
    List<Integer> hertz = columns.frequencies();
    time = place(CsvColumns.TIME);
    real = hertz.stream().mapToInt(hz -> place(CsvColumns.real(hz))).toArray();
    imaginary = hertz.stream().mapToInt(hz -> place(CsvColumns.imaginary(hz))).toArray();
    first = columns.distance() ? place(CsvColumns.DISTANCE) : real[0];
  }

  private int place(String column) {
    Integer place = places.get(column);
    if (place == null) {
      throw new IllegalArgumentException("column " + column + ": missing");
    }
    return place;
  }

  void put(List<String> row) {
    cells = row;
  }

  List<String> cells() {
    return cells;
  }

  String cell(String column) {
    return cells.get(place(column));
  }

  /** Real part of the impedance at a frequency, by its index. */
  String real(int frequency) {
    return cells.get(real[frequency]);
  }

  /** Imaginary part of the impedance at a frequency, by its index. */
  String imaginary(int frequency) {
    return cells.get(imaginary[frequency]);
  }

  /** The time of the row, ns. */
  long nowNs() {
    return CsvNumber.scaledLong(cells.get(time), 6);
  }

  /** Whether the row has a new sample. */
  boolean sampled() {
    return !cells.get(first).isEmpty();
  }

  /** The true distance to the foramen, µm. */
  int truthMicrons() {
    return CsvNumber.scaled(cell(CsvColumns.TRUTH), 3);
  }

  /**
   * Fills in the inputs of the controller.
   *
   * @param commandedMilliRpm speed commanded in the row before, signed, milli-rpm
   * @param in overwritten, except that a sample stays until the next one comes
   */
  void fill(int commandedMilliRpm, ControllerInput in) {
    if (sampled()) {
      in.sampleSequence++;
      in.sampleTimeNs = nowNs();
      if (columns.distance()) {
        String shown = cell(CsvColumns.DISTANCE);
        boolean contact = !shown.equals(CsvColumns.NO_CONTACT);
        in.positionKind = contact ? PositionKind.DISTANCE : PositionKind.NO_CONTACT;
        in.distanceMicrons = contact ? CsvNumber.scaled(shown, 3) : 0;
      } else {
        in.positionKind = PositionKind.IMPEDANCE;
        in.frequencyCount = columns.frequencies().size();
        for (int i = 0; i < in.frequencyCount; i++) {
          in.frequencyHz[i] = columns.frequencies().get(i);
          in.zRealMilliOhms[i] = CsvNumber.scaled(real(i), 3);
          in.zImagMilliOhms[i] = CsvNumber.scaled(imaginary(i), 3);
        }
      }
    }
    in.insertionPresent = columns.insertion() && !cell(CsvColumns.INSERTION).isEmpty();
    in.insertionMicrons = in.insertionPresent ? CsvNumber.scaled(cell(CsvColumns.INSERTION), 3) : 0;
    in.speedMilliRpm =
        columns.speed() ? CsvNumber.scaled(cell(CsvColumns.SPEED), 3) : commandedMilliRpm;
    in.torqueMicroNewtonMetres =
        columns.torque() ? CsvNumber.scaled(cell(CsvColumns.TORQUE), 4) : 0;
    in.demand = !columns.demand() || !cell(CsvColumns.DEMAND).equals("0");
  }
}
