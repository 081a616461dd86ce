package org.stopwell.harness.length;

/**
 * How a length is measured.
 *
 * @param canal name of the canal; empty when it is not stated
 * @param reference the point from which the length counts
 * @param depthBy what reads the depth
 * @param depthErrorMicrons largest error of that, either way, shared by all readings, µm
 * @param rangeMicrons range within which length readings agree, µm
 * @param movedBy what moves the file
 */
public record LengthMethod(
    String canal,
    ReferencePoint reference,
    DepthBy depthBy,
    int depthErrorMicrons,
    int rangeMicrons,
    MovedBy movedBy) {

  /** Refuses negative distances. */
  public LengthMethod {
    if (!(rangeMicrons >= 0 && depthErrorMicrons >= 0)) {
      throw new IllegalArgumentException(
          "range "
              + rangeMicrons
              + " um or error of the depth "
              + depthErrorMicrons
              + " um is below 0");
    }
  }

  /**
   * Measured by a motor and a depth axis, with its defaults.
   *
   * @param canal name of the canal
   * @param reference the point from which the length counts
   * @return the method
   */
  public static LengthMethod byAxis(String canal, ReferencePoint reference) {
    return new LengthMethod(
        canal,
        reference,
        DepthBy.AXIS,
        DepthBy.AXIS.errorMicrons(),
        DepthBy.AXIS.rangeMicrons(),
        MovedBy.MOTOR);
  }
}
