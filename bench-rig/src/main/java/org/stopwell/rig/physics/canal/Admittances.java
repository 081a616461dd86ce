package org.stopwell.rig.physics.canal;

/** Admittances, one per frequency: a reused frame of complex numbers. */
public final class Admittances {
  final double[] re;
  final double[] im;

  /**
   * All zero.
   *
   * @param count how many
   */
  public Admittances(int count) {
    re = new double[count];
    im = new double[count];
  }

  /**
   * How many there are.
   *
   * @return a count
   */
  public int count() {
    return re.length;
  }

  /**
   * Overwrites one.
   *
   * @param i index of the frequency
   * @param siemensRe real part, S (or S/m² where it is per area)
   * @param siemensIm imaginary part
   */
  public void set(int i, double siemensRe, double siemensIm) {
    re[i] = siemensRe;
    im[i] = siemensIm;
  }

  /**
   * Real part of one.
   *
   * @param i index of the frequency
   * @return S (or S/m²)
   */
  public double re(int i) {
    return re[i];
  }

  /**
   * Imaginary part of one.
   *
   * @param i index of the frequency
   * @return S (or S/m²)
   */
  public double im(int i) {
    return im[i];
  }
}
