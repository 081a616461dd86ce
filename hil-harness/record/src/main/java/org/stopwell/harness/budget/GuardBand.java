package org.stopwell.harness.budget;

/**
 * Whether a measured stop error lies within a tolerance, its uncertainty taken into account:
 * guarded acceptance and guarded rejection with a guard band of U (JCGM 106:2012, 8.3.2 and 8.3.3).
 *
 * @param toleranceMicrons half width of the tolerance around the standoff, µm
 * @param uncertaintyMicrons expanded uncertainty U of a stop error, 95 %, µm
 */
public record GuardBand(int toleranceMicrons, int uncertaintyMicrons) {
  /** The ruling on one error. */
  public enum Zone {
    /** Within the tolerance, whatever the uncertainty. */
    CONFORMS,
    /** Closer to the limit than the uncertainty: undecided. */
    UNDECIDED,
    /** Outside of the tolerance, whatever the uncertainty. */
    DOES_NOT_CONFORM
  }

  /**
   * Checks the numbers.
   *
   * @throws IllegalArgumentException unless the tolerance is above 0 and the uncertainty not below
   */
  public GuardBand {
    if (!(toleranceMicrons > 0 && uncertaintyMicrons >= 0)) {
      throw new IllegalArgumentException(
          "tolerance "
              + toleranceMicrons
              + " µm, uncertainty "
              + uncertaintyMicrons
              + " µm: must be above 0, 0 or more");
    }
  }

  /**
   * The limit of acceptance: tolerance minus uncertainty.
   *
   * @return µm; below 0 nothing can be accepted
   */
  public int acceptanceMicrons() {
    return toleranceMicrons - uncertaintyMicrons;
  }

  /**
   * Where an error lies.
   *
   * @param stopErrorMicrons the error, µm
   * @return one of three
   */
  public Zone of(int stopErrorMicrons) {
    long size = Math.abs((long) stopErrorMicrons);
    if (size <= acceptanceMicrons()) {
      return Zone.CONFORMS;
    }
    return size > (long) toleranceMicrons + uncertaintyMicrons
        ? Zone.DOES_NOT_CONFORM
        : Zone.UNDECIDED;
  }
}
