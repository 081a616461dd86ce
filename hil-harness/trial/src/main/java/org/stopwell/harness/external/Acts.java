package org.stopwell.harness.external;

import java.util.Optional;
import org.stopwell.rig.device.DeviceFault;

/**
 * What a device did in one trial, from rotation and depth alone. Distances are to the foramen, µm.
 * Every value has an expanded uncertainty (95 %).
 *
 * @param started whether the motor turned
 * @param startMicrons distance where it started by itself
 * @param eased whether it slowed down before it acted
 * @param easedMicrons distance where it slowed down
 * @param acted whether it stopped or turned back
 * @param reversed whether it turned back
 * @param actNs when it acted, ns
 * @param actMicrons distance where it acted: the trip
 * @param actBoundMicrons expanded uncertainty of this distance
 * @param stillMicros time from the act to standstill, µs
 * @param stillBoundMicros expanded uncertainty of this time
 * @param stillMilliDegrees angle from the act to standstill, m°
 * @param stillBoundMilliDegrees expanded uncertainty of this angle
 * @param feedMicronsPerSecond feed at the act, µm/s
 * @param deepestMicrons least distance of the whole trial
 * @param restMicrons distance at rest
 * @param turnedUntilMicrons distance where the rotation ended
 * @param restarts how often it turned again
 * @param restartMicrons distance where it turned again after a withdrawal; 0 without one
 * @param fault what went wrong
 */
public record Acts(
    boolean started,
    int startMicrons,
    boolean eased,
    int easedMicrons,
    boolean acted,
    boolean reversed,
    long actNs,
    int actMicrons,
    int actBoundMicrons,
    int stillMicros,
    int stillBoundMicros,
    int stillMilliDegrees,
    int stillBoundMilliDegrees,
    int feedMicronsPerSecond,
    int deepestMicrons,
    int restMicrons,
    int turnedUntilMicrons,
    int restarts,
    int restartMicrons,
    Optional<DeviceFault> fault) {

  /** A device that has done nothing. */
  static Acts nothing(int deepestMicrons, int restMicrons) {
    return new Acts(
        false,
        0,
        false,
        0,
        false,
        false,
        0,
        0,
        0,
        0,
        0,
        0,
        0,
        0,
        deepestMicrons,
        restMicrons,
        0,
        0,
        0,
        Optional.empty());
  }

  /**
   * How far the file comes back from its deepest place.
   *
   * @return µm
   */
  public int reboundMicrons() {
    return restMicrons - deepestMicrons;
  }

  Acts with(Optional<DeviceFault> found) {
    return new Acts(
        started,
        startMicrons,
        eased,
        easedMicrons,
        acted,
        reversed,
        actNs,
        actMicrons,
        actBoundMicrons,
        stillMicros,
        stillBoundMicros,
        stillMilliDegrees,
        stillBoundMilliDegrees,
        feedMicronsPerSecond,
        deepestMicrons,
        restMicrons,
        turnedUntilMicrons,
        restarts,
        restartMicrons,
        found);
  }
}
