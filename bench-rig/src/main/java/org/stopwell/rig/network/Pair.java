package org.stopwell.rig.network;

import org.stopwell.core.number.Elementary;

/**
 * A resistor and a capacitor side by side.
 *
 * @param ohms the resistor, Ω; infinite when there is none
 * @param farads the capacitor, F
 */
public record Pair(double ohms, double farads) {
  /** Nothing at all. */
  public static final Pair OPEN = new Pair(Double.POSITIVE_INFINITY, 0);

  /**
   * The pair whose magnitudes are those wanted at two frequencies; phases come out as they may.
   *
   * <p>|Y|² = G² + ω²C², so two magnitudes give both: C² = (1/|Z₂|² − 1/|Z₁|²)/(ω₂² − ω₁²), G² =
   * 1/|Z₁|² − ω₁²C². Closed form, computed.
   *
   * @param low what is wanted at the lower frequency
   * @param high what is wanted at the higher one
   * @return the pair
   * @throws IllegalArgumentException when no such pair has these magnitudes: their ratio must lie
   *     between that of the frequencies and 1
   */
  public static Pair ofMagnitudes(Target low, Target high) {
    double low2 = square(low.impedance().inverse());
    double high2 = square(high.impedance().inverse());
    double omega1 = 2 * Math.PI * low.hertz();
    double omega2 = 2 * Math.PI * high.hertz();
    double farads2 = (high2 - low2) / (omega2 * omega2 - omega1 * omega1);
    double siemens2 = low2 - omega1 * omega1 * farads2;
    if (!(omega2 > omega1 && farads2 >= 0 && siemens2 > 0)) {
      throw new IllegalArgumentException(
          low + " and " + high + ": no resistor and capacitor side by side have these magnitudes");
    }
    return new Pair(1 / Math.sqrt(siemens2), Math.sqrt(farads2));
  }

  /** How far the magnitude of another pair is off at a frequency, as a share, resistor or both. */
  double miss(Pair other, double radPerS) {
    double both =
        Elementary.hypot(1 / other.ohms, radPerS * other.farads)
            / Elementary.hypot(1 / ohms, radPerS * farads);
    return Math.max(Math.abs(other.ohms / ohms - 1), Math.abs(both - 1));
  }

  private static double square(Impedance of) {
    return of.re() * of.re() + of.im() * of.im();
  }
}
