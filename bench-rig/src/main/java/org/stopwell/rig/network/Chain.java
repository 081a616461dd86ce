package org.stopwell.rig.network;

import java.util.List;

/**
 * Resistances in series, all but the first with a fixed capacitor across it: <i>Z</i> = R₀ + Σ
 * Rₖ/(1 + jωRₖCₖ), beside the stray capacitance of the terminals. Only resistances are switched, so
 * no switch opens the circuit, and capacitance and leak of an open switch lie across a small
 * resistor.
 *
 * @param farads the fixed capacitors, F
 * @param leastOhms least resistance of each segment, the one without a capacitor first, Ω
 * @param mostOhms greatest resistance of each segment, Ω
 * @param strayFarads capacitance between the terminals, F
 */
public record Chain(
    List<Double> farads, List<Double> leastOhms, List<Double> mostOhms, double strayFarads) {
  /** Stray capacitance that the parts are chosen for, half of the limit, F. */
  public static final double STRAY_FARADS = 30e-12;

  /** Copies the lists and checks the values. */
  public Chain {
    farads = List.copyOf(farads);
    leastOhms = List.copyOf(leastOhms);
    mostOhms = List.copyOf(mostOhms);
    boolean fits =
        leastOhms.size() == farads.size() + 1
            && mostOhms.size() == leastOhms.size()
            && farads.stream().allMatch(f -> f > 0)
            && strayFarads >= 0;
    for (int k = 0; fits && k < leastOhms.size(); k++) {
      fits = leastOhms.get(k) >= 0 && mostOhms.get(k) > leastOhms.get(k);
    }
    if (!fits) {
      throw new IllegalArgumentException(
          farads
              + " F, "
              + leastOhms
              + " to "
              + mostOhms
              + " Ω, stray "
              + strayFarads
              + " F: one resistance more than capacitors, each range ascending, stray 0 or more");
    }
  }

  /**
   * How many resistances are switched.
   *
   * @return one more than capacitors
   */
  public int segments() {
    return mostOhms.size();
  }

  /**
   * The impedance at the terminals.
   *
   * @param ohms resistance of each segment, Ω
   * @param hertz the frequency, Hz
   * @return the impedance
   */
  public Impedance impedance(double[] ohms, double hertz) {
    double omega = 2 * Math.PI * hertz;
    double re = ohms[0];
    double im = 0;
    for (int k = 0; k < farads.size(); k++) {
      double r = ohms[k + 1];
      double x = omega * r * farads.get(k);
      re += r / (1 + x * x);
      im -= r * x / (1 + x * x);
    }
    double b = omega * strayFarads;
    // Z / (1 + jωSZ)
    double downRe = 1 - b * im;
    double downIm = b * re;
    double square = downRe * downRe + downIm * downIm;
    return new Impedance(
        (re * downRe + im * downIm) / square, (im * downRe - re * downIm) / square);
  }
}
