package org.stopwell.harness.length;

/**
 * The point on the tooth from which a length is counted.
 *
 * @param point in words, such as "mesiobuccal cusp"
 * @param toOrificeMicrons distance from it to the orifice along the file, µm; a depth axis counts
 *     from the orifice
 * @param errorMicrons how far off a reading of the point may be either way, µm
 */
public record ReferencePoint(String point, int toOrificeMicrons, int errorMicrons) {
  /** The word for the orifice. */
  public static final String ORIFICE = "orifice";

  /** Default error of a reading of the point, µm; assumed. */
  public static final int DEFAULT_ERROR_MICRONS = 100;

  /** Refuses negative distances. */
  public ReferencePoint {
    if (!(toOrificeMicrons >= 0 && errorMicrons >= 0)) {
      throw new IllegalArgumentException(
          "distance "
              + toOrificeMicrons
              + " um or error "
              + errorMicrons
              + " um of the reference point is below 0");
    }
  }
}
