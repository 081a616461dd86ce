package org.stopwell.harness.stops;

import java.time.LocalDate;
import java.util.Optional;
import org.stopwell.harness.trial.DeviceTrial;

/**
 * One row of a table of stops, checked. Distances are to the foramen, µm, positive short of it.
 *
 * @param line its line in the table, from 1
 * @param device code of the device
 * @param setting code of its setting
 * @param tried tooth, unit, operator, feed, where the rotation ended, constriction
 * @param end how it ended
 * @param restingMicrons at rest; 0 unless it stopped
 * @param deepestMicrons at the deepest point of the trial; 0 where the row is not valid
 * @param date the day of the trial, where the table states it
 */
public record StopRow(
    int line,
    String device,
    String setting,
    DeviceTrial tried,
    StopEnd end,
    int restingMicrons,
    int deepestMicrons,
    Optional<LocalDate> date) {

  /**
   * The condition that the row belongs to: one device at one setting.
   *
   * @return such as {@code A/s05}
   */
  public String condition() {
    return device + "/" + setting;
  }
}
