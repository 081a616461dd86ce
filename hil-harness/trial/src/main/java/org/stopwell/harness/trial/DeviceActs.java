package org.stopwell.harness.trial;

/**
 * What a device of its own did in one trial, from rotation and depth alone. Whole numbers only.
 *
 * @param startMicrons distance to the foramen where it started, µm; 0 when it did not
 * @param actMicrons distance where it stopped or turned back, µm; 0 when it did not
 * @param actBoundMicrons expanded uncertainty of that distance, µm; 0: it did not act
 * @param stillMicros time from that act to standstill, µs
 * @param stillBoundMicros expanded uncertainty of that time, µs
 * @param stillMilliDegrees angle from that act to standstill, m°
 * @param feedMicronsPerSecond feed at that act, µm/s
 * @param reversed 1 when it turned back, else 0
 * @param restartMicrons distance where it turned again after a withdrawal, µm; 0 without one
 */
public record DeviceActs(
    int startMicrons,
    int actMicrons,
    int actBoundMicrons,
    int stillMicros,
    int stillBoundMicros,
    int stillMilliDegrees,
    int feedMicronsPerSecond,
    int reversed,
    int restartMicrons) {
  /** Nothing is known of a device: none was watched. */
  public static final DeviceActs NONE = new DeviceActs(0, 0, 0, 0, 0, 0, 0, 0, 0);

  /**
   * Whether the device stopped or turned back.
   *
   * @return true when the place of the act is known
   */
  public boolean acted() {
    return actBoundMicrons > 0;
  }
}
