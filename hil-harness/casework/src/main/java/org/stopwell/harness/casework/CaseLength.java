package org.stopwell.harness.casework;

/**
 * A length as it is recorded: everything that is needed to compare it with another one.
 *
 * @param lengthMicrons from the reference point to the tip at the standoff, µm: the median of the
 *     length readings that agree
 * @param standoffMicrons distance of that place from the foramen, µm
 * @param reference the reference point
 * @param offsetMicrons from the reference point to the orifice, µm
 * @param uncertaintyMicrons expanded uncertainty U of the length, µm
 * @param coverageHundredths coverage factor k of U, hundredths
 * @param caveat what U does not include, one sentence
 * @param agreeing number of length readings that agree
 * @param taken number of length readings taken
 * @param spreadMicrons from the least to the greatest of those that agree, µm
 */
public record CaseLength(
    int lengthMicrons,
    int standoffMicrons,
    CrownPoint reference,
    int offsetMicrons,
    int uncertaintyMicrons,
    int coverageHundredths,
    String caveat,
    int agreeing,
    int taken,
    int spreadMicrons) {

  /**
   * The length of the canal that this length states.
   *
   * @return from the reference point to the foramen, µm
   */
  public int foramenMicrons() {
    return lengthMicrons + standoffMicrons;
  }
}
