package org.stopwell.harness.trial;

/**
 * A trial of a device that this program does not control, such as a handpiece with a motor and a
 * locator of its own: on which tooth, with which unit, by whom, how. Codes only: nothing here may
 * say who somebody is. Whole numbers only.
 *
 * @param tooth code of the tooth; trials on one tooth are repeats. Empty: not a trial of such a
 *     device, or one on a network of components
 * @param unit code of the unit of the device; empty when unknown
 * @param operator code of the person who moved it; empty when unknown
 * @param feedMicronsPerSecond planned feed, µm/s; 0 when unknown
 * @param turnedUntilMicrons distance to the foramen where the rotation ended, µm, positive short of
 *     it; of no use unless the file stopped
 * @param constrictionMicrons distance from the constriction to the foramen, µm; 0 when unknown
 * @param constrictionBoundMicrons U95 of that distance, µm; 0 when the distance is unknown
 * @param acts what the bench saw it do
 */
public record DeviceTrial(
    String tooth,
    String unit,
    String operator,
    int feedMicronsPerSecond,
    int turnedUntilMicrons,
    int constrictionMicrons,
    int constrictionBoundMicrons,
    DeviceActs acts) {
  /** A trial of a controller of this program. */
  public static final DeviceTrial NONE = new DeviceTrial("", "", "", 0, 0, 0, 0);

  /**
   * A trial of a device that no bench of this program watched.
   *
   * @param tooth code of the tooth
   * @param unit code of the unit
   * @param operator code of the person who moved it
   * @param feedMicronsPerSecond planned feed, µm/s
   * @param turnedUntilMicrons distance to the foramen where the rotation ended, µm
   * @param constrictionMicrons distance from the constriction to the foramen, µm
   * @param constrictionBoundMicrons U95 of that distance, µm
   */
  public DeviceTrial(
      String tooth,
      String unit,
      String operator,
      int feedMicronsPerSecond,
      int turnedUntilMicrons,
      int constrictionMicrons,
      int constrictionBoundMicrons) {
    this(
        tooth,
        unit,
        operator,
        feedMicronsPerSecond,
        turnedUntilMicrons,
        constrictionMicrons,
        constrictionBoundMicrons,
        DeviceActs.NONE);
  }

  /** What is judged: a unit or the way it runs on can give the device away. */
  DeviceTrial blinded() {
    return new DeviceTrial(
        tooth,
        "",
        operator,
        feedMicronsPerSecond,
        0,
        constrictionMicrons,
        constrictionBoundMicrons);
  }
}
