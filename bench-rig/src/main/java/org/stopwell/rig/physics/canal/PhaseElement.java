package org.stopwell.rig.physics.canal;

import org.stopwell.core.number.Elementary;

/**
 * A constant-phase element at one frequency: admittance {@code Q(jω)^n}, phase {@code 90n} degrees.
 *
 * @param siemensRe real part of the admittance, S (or S/m² where Q is per area)
 * @param siemensIm imaginary part of the admittance
 */
public record PhaseElement(double siemensRe, double siemensIm) {
  /**
   * The element at a frequency.
   *
   * @param magnitude Q, S·s^n
   * @param exponent n, 0 to 1
   * @param radPerS angular frequency, rad/s
   * @return its admittance
   */
  public static PhaseElement of(double magnitude, double exponent, double radPerS) {
    double size = magnitude * Elementary.pow(radPerS, exponent);
    double phase = exponent * Math.PI / 2;
    return new PhaseElement(size * Elementary.cos(phase), size * Elementary.sin(phase));
  }
}
