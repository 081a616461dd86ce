package org.stopwell.rig.calibration;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * Every calibration of one bench, the old ones too. The newest of a quantity is in force; of two on
 * the same day, the one written later.
 *
 * @param bench serial number of the bench
 * @param records the calibrations in the order in which they were written
 */
public record Calibrations(String bench, List<CalibrationRecord> records) {
  /** Copies the list. */
  public Calibrations {
    records = List.copyOf(records);
  }

  /**
   * The calibration in force.
   *
   * @param quantity a quantity
   * @return its newest record, empty when it was never calibrated
   */
  public Optional<CalibrationRecord> inForce(Quantity quantity) {
    return records.stream()
        .filter(r -> r.quantity() == quantity)
        .max(Comparator.comparing(CalibrationRecord::date).thenComparingInt(records::lastIndexOf));
  }

  /**
   * Which board these calibrations are of.
   *
   * @return the device board when one of its quantities was calibrated, and none of the other
   */
  public Quantity.Group group() {
    return !records.isEmpty()
            && records.stream().allMatch(r -> r.quantity().group() == Quantity.Group.DEVICE)
        ? Quantity.Group.DEVICE
        : Quantity.Group.CONTROLLER;
  }

  /**
   * What was never calibrated and every board of a group needs.
   *
   * @param group which board
   * @return quantities in order
   */
  public List<Quantity> missing(Quantity.Group group) {
    return Quantity.of(group).stream()
        .filter(q -> !q.isOptional() && inForce(q).isEmpty())
        .toList();
  }

  /**
   * What must be calibrated again.
   *
   * @param group which board
   * @param today the date
   * @return quantities in order
   */
  public List<Quantity> overdue(Quantity.Group group, LocalDate today) {
    return Quantity.of(group).stream()
        .filter(q -> inForce(q).filter(r -> r.isOverdue(today)).isPresent())
        .toList();
  }

  /**
   * What has readings outside its limit.
   *
   * @return quantities in order
   */
  public List<Quantity> beyond() {
    return Arrays.stream(Quantity.values())
        .filter(q -> inForce(q).filter(r -> !q.limit().holds(r.readingsThousandths())).isPresent())
        .toList();
  }

  /**
   * The same with one more.
   *
   * @param record a new calibration
   * @return all of them
   */
  public Calibrations with(CalibrationRecord record) {
    List<CalibrationRecord> all = new ArrayList<>(records);
    all.add(record);
    return new Calibrations(bench, all);
  }
}
