package org.stopwell.core.settings;

import java.util.List;

/**
 * A measured curve from an electrical feature to the remaining distance. Between points the core
 * goes in straight lines; outside of them it does not guess.
 *
 * @param points at least two, features and distances both ascending
 */
public record Calibration(List<Point> points) {

  /**
   * One point of the curve.
   *
   * @param feature the electrical feature: impedance ratio in millionths, or resistance in mΩ
   * @param remainingMicrons distance from file tip to foramen, positive short of it, µm
   */
  public record Point(long feature, int remainingMicrons) {}

  /** No curve: the position comes from an outside locator. */
  public static final Calibration NONE = new Calibration(List.of());

  /** Copies the points. */
  public Calibration {
    points = List.copyOf(points);
  }
}
