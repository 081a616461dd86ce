package org.stopwell.rig.calibration;

import java.util.List;

/**
 * Where every reading that a person took is written down the moment it is complete, so that a step
 * that is interrupted continues with the next reading.
 */
public interface Notebook {
  /**
   * The readings of a step that is not finished.
   *
   * @param quantity what is calibrated
   * @return in thousandths of its unit, in the order in which they were taken
   */
  List<Long> taken(Quantity quantity);

  /**
   * Writes one down.
   *
   * @param quantity what is calibrated
   * @param thousandths the reading, thousandths of its unit
   */
  void take(Quantity quantity, long thousandths);
}
