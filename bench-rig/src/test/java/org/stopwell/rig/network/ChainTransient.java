package org.stopwell.rig.network;

/**
 * A chain in time while its relays move, under a sine current: what is left 1 ms after the first
 * relay moved. Every capacitor charges through its own resistance only: exact over a step in which
 * current and resistance are constant.
 */
final class ChainTransient {
  private static final double STEP = 0.5e-6;

  private final BuiltChain built;
  private final double hertz;
  private final double[] volts;
  private double time;

  ChainTransient(BuiltChain built, double hertz) {
    this.built = built;
    this.hertz = hertz;
    volts = new double[built.chain().farads().size()];
  }

  /**
   * From the first relay that opens to the last that closes, s: assumed, twice the board's wait.
   */
  static final double GLITCH = 0.2e-3;

  /** Opens, then closes; greatest error of the voltage from 1 to 2 ms after, a share. */
  double left(ChainStep step) {
    run(step.from(), 20e-3, 1);
    run(step.opening(), GLITCH, 1);
    run(step.to(), 1e-3 - GLITCH, 1);
    return run(step.to(), 1e-3, 0);
  }

  /** The greatest deviation from the steady state of these codes over an interval. */
  private double run(int[] codes, double seconds, double counted) {
    double[] ohms = built.ohms(codes);
    Impedance steady =
        new Chain(built.chain().farads(), built.chain().leastOhms(), built.chain().mostOhms(), 0)
            .impedance(ohms, hertz);
    double worst = 0;
    double omega = 2 * Math.PI * hertz;
    for (double end = time + seconds; time < end; time += STEP) {
      double amps = Math.cos(omega * (time + STEP / 2));
      double sum = ohms[0] * Math.cos(omega * (time + STEP));
      for (int k = 0; k < volts.length; k++) {
        double r = ohms[k + 1];
        double kept = Math.exp(-STEP / (r * built.chain().farads().get(k)));
        volts[k] = volts[k] * kept + r * amps * (1 - kept);
        sum += volts[k];
      }
      double wanted =
          steady.re() * Math.cos(omega * (time + STEP))
              - steady.im() * Math.sin(omega * (time + STEP));
      worst = Math.max(worst, Math.abs(sum - wanted));
    }
    return counted > 0 ? 0 : worst / steady.magnitude();
  }
}
