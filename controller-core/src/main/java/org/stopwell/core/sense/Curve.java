package org.stopwell.core.sense;

import java.util.List;
import org.stopwell.core.settings.Calibration;

/** A calibrated curve as arrays: straight lines between points. */
final class Curve {
  private final double[] feature;
  private final double[] remaining;
  private final double[] low;
  private final double[] bound;

  Curve(Calibration calibration) {
    List<Calibration.Point> points = calibration.points();
    feature = new double[points.size()];
    remaining = new double[points.size()];
    low = new double[points.size()];
    bound = new double[points.size()];
    for (int i = 0; i < points.size(); i++) {
      feature[i] = points.get(i).feature();
      remaining[i] = points.get(i).remainingMicrons();
      low[i] = points.get(i).lowMilliOhms();
      bound[i] = points.get(i).boundMicrons();
    }
  }

  double first() {
    return feature[0];
  }

  double last() {
    return feature[feature.length - 1];
  }

  /** Index of the segment that holds the feature; the outer segments reach to infinity. */
  int segment(double at) {
    int i = 0;
    while (i < feature.length - 2 && at >= feature[i + 1]) {
      i++;
    }
    return i;
  }

  /** Distance, held at the ends of the curve, µm. */
  double remaining(int segment, double at) {
    return between(remaining, segment, at);
  }

  /** Steepness, µm per unit of the feature. */
  double slope(int segment) {
    return (remaining[segment + 1] - remaining[segment])
        / (feature[segment + 1] - feature[segment]);
  }

  /** Magnitude expected at the lower frequency, mΩ; 0 when the curve does not know. */
  double low(int segment, double at) {
    return low[segment] > 0 && low[segment + 1] > 0 ? between(low, segment, at) : 0;
  }

  /**
   * Bound of the distance over the canals of the curve, µm; 0 when the curve does not state it, and
   * beyond its ends, where the distance is not measured.
   */
  double bound(int segment, double at) {
    boolean known = bound[segment] > 0 && bound[segment + 1] > 0;
    return known && at >= first() && at <= last() ? between(bound, segment, at) : 0;
  }

  private double between(double[] values, int segment, double at) {
    double share = (at - feature[segment]) / (feature[segment + 1] - feature[segment]);
    double held = share < 0 ? 0 : Math.min(share, 1);
    return values[segment] + held * (values[segment + 1] - values[segment]);
  }
}
