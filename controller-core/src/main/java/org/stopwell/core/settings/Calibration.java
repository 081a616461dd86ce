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
   * @param lowMilliOhms magnitude at the lower frequency in this place, mΩ; 0 when not known. It
   *     shows a current that leaks around the canal
   */
  public record Point(long feature, int remainingMicrons, long lowMilliOhms) {
    /**
     * A point whose magnitude is not known.
     *
     * @param feature the electrical feature
     * @param remainingMicrons distance from file tip to foramen, µm
     */
    public Point(long feature, int remainingMicrons) {
      this(feature, remainingMicrons, 0);
    }
  }

  /** No curve: the position comes from an outside locator. */
  public static final Calibration NONE = new Calibration(List.of());

  /** Copies the points. */
  public Calibration {
    points = List.copyOf(points);
  }

  /**
   * The place nearest to the foramen, or farthest past it, that the curve knows.
   *
   * @return µm
   */
  public int nearestMicrons() {
    return points.get(0).remainingMicrons();
  }

  /**
   * The place farthest from the foramen that the curve knows.
   *
   * @return µm
   */
  public int farthestMicrons() {
    return points.get(points.size() - 1).remainingMicrons();
  }
}
