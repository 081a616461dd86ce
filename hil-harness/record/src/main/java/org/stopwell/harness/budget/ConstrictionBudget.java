package org.stopwell.harness.budget;

import java.util.List;

/**
 * The uncertainty of one distance to the constriction, in a run that was measured elsewhere: that
 * of the distance to the foramen and that of the place of the constriction, which are independent.
 */
public final class ConstrictionBudget {
  private ConstrictionBudget() {}

  /**
   * The budget.
   *
   * @param distanceMicrons U95 of a measured distance to the foramen, k = 2, µm; 0 when not stated
   * @param constrictionMicrons U95 of the distance from constriction to foramen, k = 2, µm
   * @return in µm
   */
  public static UncertaintyBudget of(int distanceMicrons, int constrictionMicrons) {
    return new UncertaintyBudget(
        "µm",
        List.of(
            Input.stated("distance to the foramen", "plan", distanceMicrons / 2.0, "µm", 1),
            Input.stated(
                "place of the constriction", "table or plan", constrictionMicrons / 2.0, "µm", 1)));
  }

  /**
   * U95 of one distance to the constriction, k = 2, as both parts are stated.
   *
   * @param distanceMicrons U95 of a measured distance to the foramen, µm; 0 when not stated
   * @param constrictionMicrons U95 of the distance from constriction to foramen, µm
   * @return µm, rounded up
   */
  public static int expandedMicrons(int distanceMicrons, int constrictionMicrons) {
    return (int) Math.ceil(2 * of(distanceMicrons, constrictionMicrons).combined());
  }
}
