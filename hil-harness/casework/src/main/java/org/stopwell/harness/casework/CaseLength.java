package org.stopwell.harness.casework;

import java.util.OptionalInt;
import org.stopwell.harness.length.DepthBy;
import org.stopwell.harness.length.LengthMethod;
import org.stopwell.harness.length.LengthRecord;
import org.stopwell.harness.length.MovedBy;
import org.stopwell.harness.length.Radiograph;
import org.stopwell.harness.length.ReferencePoint;
import org.stopwell.harness.stats.ExpandedUncertainty;

/**
 * A length as it is recorded: everything that is needed to compare it with another one.
 *
 * @param lengthMicrons from the reference point to the tip at the standoff, µm: the mean of the
 *     readings used
 * @param standoffMicrons distance of that place from the foramen, µm
 * @param reference the reference point
 * @param offsetMicrons from the reference point to the orifice, µm
 * @param referenceErrorMicrons how far off a reading of the point may be either way, µm
 * @param depthBy what read the depth
 * @param depthErrorMicrons how far off that may be either way in all readings, µm
 * @param uncertaintyMicrons expanded uncertainty U of the length, 95 % coverage, µm
 * @param coverageHundredths coverage factor k of U, hundredths
 * @param freedom degrees of freedom of U
 * @param caveat what U does not include, one sentence
 * @param agreeing number of length readings that agree
 * @param used number of length readings in the mean
 * @param taken number of length readings taken
 * @param rangeMicrons range within which length readings agree, µm
 * @param spreadMicrons from the least to the greatest of those used, µm
 * @param boundMicrons largest stated bound of the readings used, µm; 0: none was stated
 * @param patencyMicrons how far past the foramen the file was led on purpose afterwards, µm; 0: it
 *     was not
 */
public record CaseLength(
    int lengthMicrons,
    int standoffMicrons,
    CrownPoint reference,
    int offsetMicrons,
    int referenceErrorMicrons,
    DepthBy depthBy,
    int depthErrorMicrons,
    int uncertaintyMicrons,
    int coverageHundredths,
    int freedom,
    String caveat,
    int agreeing,
    int used,
    int taken,
    int rangeMicrons,
    int spreadMicrons,
    int boundMicrons,
    int patencyMicrons) {

  /**
   * A length that was measured in a canal of a case.
   *
   * @param length the length
   * @param reference the reference point of the canal
   * @return the length as it is recorded
   */
  public static CaseLength of(LengthRecord length, CrownPoint reference) {
    LengthMethod method = length.method();
    return new CaseLength(
        length.lengthMicrons(),
        length.standoffMicrons(),
        reference,
        method.reference().toOrificeMicrons(),
        method.reference().errorMicrons(),
        method.depthBy(),
        method.depthErrorMicrons(),
        length.uncertaintyMicrons(),
        (int) Math.round(length.uncertainty().coverageFactor() * 100),
        length.uncertainty().freedom(),
        LengthRecord.CAVEAT,
        length.agreeing(),
        length.used(),
        length.taken(),
        method.rangeMicrons(),
        length.spreadMicrons(),
        length.boundMicrons(),
        length.patencyMicrons().orElse(0));
  }

  /**
   * This length, to compare it with another.
   *
   * @param canal name of the canal
   * @param file the file that measured it
   * @param movedBy what moved that file
   * @param radiograph what a radiograph says about it
   * @return the length
   */
  public LengthRecord record(String canal, StepFile file, MovedBy movedBy, Radiograph radiograph) {
    ExpandedUncertainty unit = new ExpandedUncertainty(1, freedom);
    return new LengthRecord(
        new LengthMethod(
            canal,
            new ReferencePoint(reference.sentence(), offsetMicrons, referenceErrorMicrons),
            depthBy,
            depthErrorMicrons,
            rangeMicrons,
            movedBy),
        lengthMicrons,
        standoffMicrons,
        agreeing,
        used,
        taken,
        spreadMicrons,
        boundMicrons,
        new ExpandedUncertainty(uncertaintyMicrons / unit.expanded(), freedom),
        file.size(),
        radiograph,
        patencyMicrons == 0 ? OptionalInt.empty() : OptionalInt.of(patencyMicrons));
  }

  /**
   * The length of the canal that this length states.
   *
   * @return from the reference point to the foramen, µm
   */
  public int foramenMicrons() {
    return lengthMicrons + standoffMicrons;
  }
}
