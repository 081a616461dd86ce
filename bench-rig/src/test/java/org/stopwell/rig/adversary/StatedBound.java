package org.stopwell.rig.adversary;

import java.util.List;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.SenseParameters;

/**
 * How wrong a reading may be inside the declared signal budget: the noise at its most, through the
 * slope of the curve, and the error that the policy states itself.
 */
final class StatedBound {
  private final SignalBudget budget;
  private final List<Calibration.Point> points;

  /** Of the display of a locator, µm. */
  private final int stepMicrons;

  StatedBound(Setup setup) {
    budget = SignalBudget.of(setup.settings());
    boolean steps = setup.policy() == Policy.LOCATOR;
    stepMicrons =
        steps ? setup.settings().section("sense").getInt(SenseParameters.LOCATOR_STEP) : 0;
    points = setup.settings().calibration().points();
  }

  /**
   * The bound at a place.
   *
   * @param microns where the tip really is, µm
   * @param statedMicrons standard error that the policy states, µm; 0 when it states none
   * @return µm
   */
  double microns(double microns, double statedMicrons) {
    double error = budget.distanceNoiseMicrons() + statedMicrons;
    if (!points.isEmpty()) {
      error += budget.featureNoise() * micronsPerShare(microns);
    }
    return SignalBudget.SIGMAS * error + stepMicrons;
  }

  /** By how much the distance changes with the feature as a share of itself. */
  private double micronsPerShare(double microns) {
    int i = 1;
    while (i + 1 < points.size() && points.get(i).remainingMicrons() <= microns) {
      i++;
    }
    Calibration.Point a = points.get(i - 1);
    Calibration.Point b = points.get(i);
    double rise = b.feature() - a.feature();
    return (b.remainingMicrons() - a.remainingMicrons()) / rise * b.feature();
  }
}
