package org.stopwell.rig.adversary;

import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;

/**
 * What the signal may do to the controller, as its settings declare it.
 *
 * @param featureNoise standard deviation of one ratio or magnitude, as a share of it
 * @param distanceNoiseMicrons standard deviation of a distance beside it, µm
 * @param driftOhmsPerSecond fastest change of the resistance in series, Ω/s
 * @param driftMicronsPerSecond fastest drift of a distance that feels no resistance, µm/s
 */
record SignalBudget(
    double featureNoise,
    double distanceNoiseMicrons,
    double driftOhmsPerSecond,
    double driftMicronsPerSecond) {
  /** No noise is greater than this, standard deviations. */
  static final double SIGMAS = 3;

  static SignalBudget of(ControllerSettings settings) {
    ParameterValues guard = settings.section("guard");
    ParameterValues sense = settings.section("sense");
    return new SignalBudget(
        sense.get(SenseParameters.FEATURE_NOISE) / 100_000.0,
        sense.get(SenseParameters.DISTANCE_NOISE),
        guard.get(GuardParameters.DRIFT_OHMS) * 1e-3,
        guard.get(GuardParameters.DRIFT_DISTANCE));
  }
}
