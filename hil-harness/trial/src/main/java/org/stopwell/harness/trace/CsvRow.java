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
  private List<String> cells = List.of();

  CsvRow(List<String> head, CsvColumns columns) {
    this.columns = columns;
    for (int i = 0; i < head.size(); i++) {
      places.put(head.get(i), i);
    }
  }

  void put(List<String> row) {
    cells = row;
  }

  List<String> cells() {
    return cells;
  }

  String cell(String column) {
    Integer place = places.get(column);
    if (place == null) {
      throw new IllegalArgumentException("column " + column + ": missing");
    }
    return cells.get(place);
  }

  /** The time of the row, ns. */
  long nowNs() {
    return CsvNumber.scaledLong(cell(CsvColumns.TIME), 6);
  }

  /** Whether the row has a new sample. */
  boolean sampled() {
    return !cell(columns.distance()
            ? CsvColumns.DISTANCE
            : CsvColumns.real(columns.frequencies().get(0)))
        .isEmpty();
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
          int hz = columns.frequencies().get(i);
          in.frequencyHz[i] = hz;
          in.zRealMilliOhms[i] = CsvNumber.scaled(cell(CsvColumns.real(hz)), 3);
          in.zImagMilliOhms[i] = CsvNumber.scaled(cell(CsvColumns.imaginary(hz)), 3);
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
