package org.stopwell.rig.physics.hand;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.random.RandomStream;

/** What every hand does on top of what it wants: tremor, and a drift as large. */
final class Tremble {
  /** Rates of the drift, Hz, as slow as a change of posture: assumed. */
  private static final double SLOW_DRIFT_HERTZ = 0.1;

  private static final double DRIFT_HERTZ = 0.3;

  private final Oscillation tremor;
  private final Oscillation slowDrift;
  private final Oscillation drift;

  /**
   * The trembling of a scene.
   *
   * @param hand values of the section {@code hand}
   * @param random stream of the hand
   * @param stepSeconds the step, s
   */
  Tremble(ParameterValues hand, RandomStream random, double stepSeconds) {
    this(hand.get(HandSection.TREMOR) * 1e-6, hand, random, stepSeconds);
  }

  /** The same with another size. */
  Tremble(double rms, ParameterValues hand, RandomStream random, double stepSeconds) {
    tremor = of(Math.sqrt(2) * rms, hand.get(HandSection.TREMOR_RATE) * 0.1, random, stepSeconds);
    // two sines that share the rms evenly, so that the amplitude of each is the rms of both
    slowDrift = of(rms, SLOW_DRIFT_HERTZ, random, stepSeconds);
    drift = of(rms, DRIFT_HERTZ, random, stepSeconds);
  }

  private static Oscillation of(
      double amplitude, double hertz, RandomStream random, double stepSeconds) {
    return new Oscillation(amplitude, hertz, 2 * Math.PI * random.nextDouble(), stepSeconds);
  }

  /** Goes one step further and returns how much the place has changed, m. */
  double change() {
    return tremor.change() + slowDrift.change() + drift.change();
  }
}
