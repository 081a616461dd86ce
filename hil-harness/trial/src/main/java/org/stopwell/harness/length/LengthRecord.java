package org.stopwell.harness.length;

import java.util.OptionalInt;
import org.stopwell.harness.stats.ExpandedUncertainty;

/**
 * A length for the chart.
 *
 * @param method how it was measured
 * @param lengthMicrons from the reference point to the standoff, µm: the mean of the readings used
 * @param standoffMicrons distance of that place from the foramen, µm
 * @param agreeing number of length readings that agree
 * @param used number of length readings in the mean
 * @param taken number of length readings taken
 * @param spreadMicrons from the least to the greatest of those used, µm
 * @param boundMicrons largest stated bound of the readings used, µm; 0: none was stated
 * @param uncertainty uncertainty of the length, µm; see {@link #CAVEAT}
 * @param fileSize tip diameter of the largest file among those used, 1/100 mm
 * @param radiograph what a radiograph says about the length
 * @param patencyMicrons how far past the foramen the file was led on purpose afterwards, by its
 *     reading, µm; empty when it was not
 */
public record LengthRecord(
    LengthMethod method,
    int lengthMicrons,
    int standoffMicrons,
    int agreeing,
    int used,
    int taken,
    int spreadMicrons,
    int boundMicrons,
    ExpandedUncertainty uncertainty,
    int fileSize,
    Radiograph radiograph,
    OptionalInt patencyMicrons) {

  /** What the uncertainty of a length does not tell. It stays with the length. */
  public static final String CAVEAT =
      "U includes the spread of the readings, the reference point and the reading of the depth."
          + " It does not include an error that all readings share, such as that of the locator in"
          + " this canal.";

  /**
   * The expanded uncertainty, rounded up.
   *
   * @return for 95 % coverage, µm
   */
  public int uncertaintyMicrons() {
    return (int) Math.ceil(uncertainty.expanded() - 1e-6);
  }

  /**
   * The same record after a radiograph.
   *
   * @param found what it says
   * @return a copy
   */
  public LengthRecord with(Radiograph found) {
    return new LengthRecord(
        method,
        lengthMicrons,
        standoffMicrons,
        agreeing,
        used,
        taken,
        spreadMicrons,
        boundMicrons,
        uncertainty,
        fileSize,
        found,
        patencyMicrons);
  }

  /**
   * The same record after the file was led past the foramen on purpose.
   *
   * @param pastMicrons how far past it, by its reading, µm
   * @return a copy
   */
  public LengthRecord withPatency(int pastMicrons) {
    return new LengthRecord(
        method,
        lengthMicrons,
        standoffMicrons,
        agreeing,
        used,
        taken,
        spreadMicrons,
        boundMicrons,
        uncertainty,
        fileSize,
        radiograph,
        OptionalInt.of(pastMicrons));
  }
}
