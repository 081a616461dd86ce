package org.stopwell.harness.budget;

import java.util.List;

/**
 * The uncertainty of one distance to the constriction, in a run that was measured elsewhere: that
 * of the distance to the foramen and that of the place of the constriction, which are independent.
 */
public final class ConstrictionBudget {
  /** U95 of the distance from constriction to foramen, k = 2, µm (assumed: a requirement). */
  public static final int U95_MICRONS = 30;

  private ConstrictionBudget() {}

  /**
   * The budget.
   *
   * @param distanceMicrons U95 of a measured distance to the foramen, k = 2, µm; 0 when not stated
   * @return in µm
   */
  public static UncertaintyBudget of(int distanceMicrons) {
    return new UncertaintyBudget(
        "µm",
        List.of(
            Input.stated("distance to the foramen", "plan", distanceMicrons / 2.0, "µm", 1),
            Input.stated("place of the constriction", "assumed", U95_MICRONS / 2.0, "µm", 1)));
  }

  /**
   * U95 of one distance to the constriction, k = 2, as both parts are stated.
   *
   * @param distanceMicrons U95 of a measured distance to the foramen, µm; 0 when not stated
   * @return µm, rounded up
   */
  public static int expandedMicrons(int distanceMicrons) {
    return (int) Math.ceil(2 * of(distanceMicrons).combined());
  }
}
