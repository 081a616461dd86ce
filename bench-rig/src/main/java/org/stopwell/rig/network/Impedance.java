package org.stopwell.rig.network;

import org.stopwell.core.number.Elementary;

/**
 * An impedance at one frequency.
 *
 * @param re real part, Ω
 * @param im imaginary part, Ω
 */
public record Impedance(double re, double im) {
  /**
   * Its inverse, re and im in siemens.
   *
   * @return the admittance
   */
  public Impedance inverse() {
    double scale = re * re + im * im;
    return new Impedance(re / scale, -im / scale);
  }

  /**
   * The sum.
   *
   * @param other what is added
   * @return re and im added
   */
  public Impedance plus(Impedance other) {
    return new Impedance(re + other.re, im + other.im);
  }

  /**
   * Its magnitude.
   *
   * @return Ω
   */
  public double magnitude() {
    return Elementary.hypot(re, im);
  }

  /**
   * Its phase.
   *
   * @return rad
   */
  public double phase() {
    return Elementary.atan2(im, re);
  }

  /**
   * How far another one is off, as a share of this one.
   *
   * @param other the other one
   * @return at least 0
   */
  public double relativeError(Impedance other) {
    return Elementary.hypot(other.re - re, other.im - im) / Elementary.hypot(re, im);
  }
}
