package org.stopwell.harness.length;

import java.util.OptionalInt;

/**
 * What a radiograph with the file at a length says about that length.
 *
 * @param finding its finding
 * @param tipToApexMicrons distance from the tip of the file to the radiographic apex, µm, negative
 *     past it; empty when it was not measured
 * @param limitMicrons a greater distance contradicts the length, µm
 */
public record Radiograph(Finding finding, OptionalInt tipToApexMicrons, int limitMicrons) {
  /**
   * Default limit, µm. Common practice, from memory: with more than 3 mm to the radiographic apex
   * the length is corrected and the radiograph repeated.
   */
  public static final int DEFAULT_LIMIT_MICRONS = 3_000;

  /** No radiograph. */
  public static final Radiograph NOT_TAKEN = of(Finding.NOT_TAKEN);

  /** What a radiograph says about a length. */
  public enum Finding {
    /** None was taken. */
    NOT_TAKEN("not taken"),
    /** It agrees. */
    CONFIRMS("confirms"),
    /** It does not agree: the length must not be used. */
    CONTRADICTS("contradicts");

    private final String word;

    Finding(String word) {
      this.word = word;
    }

    /**
     * The finding as a record says it.
     *
     * @return one or two words
     */
    public String word() {
      return word;
    }
  }

  /**
   * A finding of a person who measured no distance.
   *
   * @param finding the finding
   * @return the radiograph
   */
  public static Radiograph of(Finding finding) {
    return new Radiograph(finding, OptionalInt.empty(), DEFAULT_LIMIT_MICRONS);
  }

  /**
   * A measured distance. It contradicts the length when it is above the limit, or when the tip is
   * past the apex although the reading puts it short of the foramen: no foramen lies beyond the
   * apex of its root.
   *
   * @param tipToApexMicrons from the tip to the radiographic apex, µm, negative past it
   * @param limitMicrons the limit, µm
   * @param standoffMicrons the standoff at which the tip was, µm
   * @return the radiograph with its finding
   */
  public static Radiograph measured(int tipToApexMicrons, int limitMicrons, int standoffMicrons) {
    boolean within =
        tipToApexMicrons >= Math.min(0, standoffMicrons) && tipToApexMicrons <= limitMicrons;
    return new Radiograph(
        within ? Finding.CONFIRMS : Finding.CONTRADICTS,
        OptionalInt.of(tipToApexMicrons),
        limitMicrons);
  }

  /**
   * Whether the length must not be used.
   *
   * @return true when the radiograph contradicts it
   */
  public boolean contradicts() {
    return finding == Finding.CONTRADICTS;
  }
}
