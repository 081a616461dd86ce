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
   * @param boundMicrons bound of the distance at this feature over the canals of the curve: 95 in
   *     100 are within it, µm; 0 when it was not measured
   */
  public record Point(long feature, int remainingMicrons, long lowMilliOhms, int boundMicrons) {
    /**
     * A point whose bound was not measured.
     *
     * @param feature the electrical feature
     * @param remainingMicrons distance from file tip to foramen, µm
     * @param lowMilliOhms magnitude at the lower frequency, mΩ
     */
    public Point(long feature, int remainingMicrons, long lowMilliOhms) {
      this(feature, remainingMicrons, lowMilliOhms, 0);
    }

    /**
     * A point whose magnitude is not known.
     *
     * @param feature the electrical feature
     * @param remainingMicrons distance from file tip to foramen, µm
     */
    public Point(long feature, int remainingMicrons) {
      this(feature, remainingMicrons, 0, 0);
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

  /**
   * The feature of a place, in a straight line between points and held at both ends.
   *
   * @param microns distance from file tip to foramen, µm
   * @return as in the points; 0 without points
   */
  public double featureAt(double microns) {
    return new PlaceCurve(points, Point::feature, false).at(microns);
  }

  /**
   * The magnitude at the lower frequency in a place, as {@link #featureAt}.
   *
   * @param microns distance from file tip to foramen, µm
   * @return mΩ; 0 when a point beside the place does not know it, or without points
   */
  public double lowAt(double microns) {
    return lows().at(microns);
  }

  /**
   * The magnitude at the lower frequency over places, mΩ, for a step, which must not allocate.
   *
   * @return {@link #lowAt} as arrays
   */
  public PlaceCurve lows() {
    return new PlaceCurve(points, Point::lowMilliOhms, true);
  }

  /**
   * The bound of the distance in a place, as {@link #featureAt}.
   *
   * @param microns distance from file tip to foramen, µm
   * @return µm; 0 when a point beside the place does not state it, or without points
   */
  public double boundAt(double microns) {
    return new PlaceCurve(points, Point::boundMicrons, true).at(microns);
  }
}
