package org.stopwell.core.settings;

import java.util.List;
import java.util.function.ToDoubleFunction;

/** A quantity over places of the calibrated curve, as arrays: straight lines between points. */
public final class PlaceCurve {
  private final double[] microns;
  private final double[] values;
  private final boolean mayBeUnknown;

  PlaceCurve(
      List<Calibration.Point> points,
      ToDoubleFunction<Calibration.Point> quantity,
      boolean mayBeUnknown) {
    microns = points.stream().mapToDouble(Calibration.Point::remainingMicrons).toArray();
    values = points.stream().mapToDouble(quantity).toArray();
    this.mayBeUnknown = mayBeUnknown;
  }

  /**
   * The quantity in a place, in a straight line between points and held at both ends.
   *
   * @param at distance from file tip to foramen, µm
   * @return 0 without points, and where a point beside the place does not know it
   */
  public double at(double at) {
    int next = 0;
    while (next < microns.length && microns[next] <= at) {
      next++;
    }
    if (microns.length == 0) {
      return 0;
    }
    int above = Math.min(next, microns.length - 1);
    int below = Math.max(0, next - 1);
    double from = values[below];
    double to = values[above];
    if (mayBeUnknown && !(from > 0 && to > 0)) {
      return 0;
    }
    double span = microns[above] - microns[below];
    double share = span > 0 ? (at - microns[below]) / span : 0;
    return from + share * (to - from);
  }
}
