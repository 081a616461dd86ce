package org.stopwell.rig.calibration;

import java.time.LocalDate;
import java.util.Collections;
import java.util.List;
import java.util.Locale;

/**
 * One calibration of one quantity of one bench: readings, reference, date and operator.
 *
 * @param quantity the calibrated quantity
 * @param readingsThousandths every reading as it was taken, in thousandths of the quantity's unit
 * @param instrument the reference instrument, or what stood in for it
 * @param certificate number of its certificate; "none" when it has none
 * @param uncertaintyThousandths expanded uncertainty of the reference as its certificate states it,
 *     in thousandths of the quantity's unit
 * @param coverageThousandths coverage factor k of that uncertainty, in thousandths
 * @param date when it was done
 * @param due when it must be done again; still good on that day
 * @param temperatureMilliCelsius temperature of the room, thousandths of a degree Celsius
 * @param operator who did it
 * @param simulated whether the readings come from a model instead of hardware
 * @param setup the station as it was then: {@link org.stopwell.rig.bench.BenchDescription#setup()}
 */
public record CalibrationRecord(
    Quantity quantity,
    List<Long> readingsThousandths,
    String instrument,
    String certificate,
    long uncertaintyThousandths,
    long coverageThousandths,
    LocalDate date,
    LocalDate due,
    int temperatureMilliCelsius,
    String operator,
    boolean simulated,
    String setup) {

  /** Copies the readings and checks that there are two or more. */
  public CalibrationRecord {
    readingsThousandths = List.copyOf(readingsThousandths);
    if (readingsThousandths.size() < 2) {
      throw new IllegalArgumentException(
          quantity.key()
              + ": "
              + readingsThousandths.size()
              + " readings; a spread needs at least 2");
    }
  }

  /**
   * The mean of the readings.
   *
   * @return in the quantity's unit
   */
  public double mean() {
    return readingsThousandths.stream().mapToLong(Long::longValue).average().orElseThrow() / 1e3;
  }

  /**
   * The standard deviation of the readings, with n − 1 (JCGM 100:2008, 4.2.2).
   *
   * @return in the quantity's unit
   */
  public double spread() {
    double mean = mean();
    double squares =
        readingsThousandths.stream().mapToDouble(r -> (r / 1e3 - mean) * (r / 1e3 - mean)).sum();
    return Math.sqrt(squares / (readingsThousandths.size() - 1));
  }

  /**
   * The least and the greatest reading.
   *
   * @return such as {@code -1.200 to 0.800 µm}
   */
  public String extremes() {
    return String.format(
        Locale.ROOT,
        "%.3f to %.3f %s",
        Collections.min(readingsThousandths) / 1e3,
        Collections.max(readingsThousandths) / 1e3,
        quantity.sign());
  }

  /**
   * The standard uncertainty of the reference: U over k (JCGM 100:2008, 4.3.3).
   *
   * @return in the quantity's unit
   */
  public double referenceUncertainty() {
    return (double) uncertaintyThousandths / coverageThousandths;
  }

  /**
   * Whether it must be done again.
   *
   * @param today the date
   * @return true after the due date
   */
  public boolean isOverdue(LocalDate today) {
    return today.isAfter(due);
  }
}
