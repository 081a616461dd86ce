package org.stopwell.harness.external;

import java.util.List;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * How far a device goes on per feed: a straight line through the places of several trials over
 * their feeds, by least squares. The place at no feed is the static trip; mm per mm/s are seconds.
 *
 * @param trials number of trials
 * @param staticMicrons distance to the foramen at no feed, µm
 * @param staticBoundMicrons half width of its 95 % interval, µm
 * @param overshootMs overshoot per feed, µm per mm/s, which is ms
 * @param overshootBoundMs half width of its 95 % interval, ms
 * @param residualMicrons standard deviation about the line, µm: the repeatability
 */
public record OvershootFit(
    int trials,
    double staticMicrons,
    double staticBoundMicrons,
    double overshootMs,
    double overshootBoundMs,
    double residualMicrons) {

  /**
   * One trial.
   *
   * @param feedMicronsPerSecond feed, µm/s
   * @param microns distance to the foramen, µm
   */
  public record Point(double feedMicronsPerSecond, double microns) {}

  /** A line and its spread need three trials at two feeds. */
  private static final int FEWEST = 3;

  /**
   * Whether a fit is possible.
   *
   * @param points the trials
   * @return true for three or more trials with different feeds
   */
  public static boolean fits(List<Point> points) {
    double least = points.stream().mapToDouble(Point::feedMicronsPerSecond).min().orElse(0);
    double most = points.stream().mapToDouble(Point::feedMicronsPerSecond).max().orElse(0);
    return points.size() >= FEWEST && most > 1.2 * least;
  }

  /**
   * Fits the line.
   *
   * @param points trials that {@link #fits} accepts
   * @return the line with its intervals
   */
  public static OvershootFit of(List<Point> points) {
    int n = points.size();
    double meanX = points.stream().mapToDouble(Point::feedMicronsPerSecond).sum() / n;
    double meanY = points.stream().mapToDouble(Point::microns).sum() / n;
    double xx = 0;
    double xy = 0;
    for (Point p : points) {
      double x = p.feedMicronsPerSecond() - meanX;
      xx += x * x;
      xy += x * (p.microns() - meanY);
    }
    double slope = xy / xx;
    double left = 0;
    for (Point p : points) {
      double off = p.microns() - meanY - slope * (p.feedMicronsPerSecond() - meanX);
      left += off * off;
    }
    double sd = Math.sqrt(left / (n - 2));
    double t = TDistribution.of(n - 2).inverseCumulativeProbability(0.975);
    return new OvershootFit(
        n,
        meanY - slope * meanX,
        t * sd * Math.sqrt(1.0 / n + meanX * meanX / xx),
        -1e3 * slope,
        1e3 * t * sd / Math.sqrt(xx),
        sd);
  }
}
