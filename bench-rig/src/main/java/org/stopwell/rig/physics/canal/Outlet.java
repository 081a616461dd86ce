package org.stopwell.rig.physics.canal;

/**
 * From the file to the lip clip: foramen and wall lead into the tissue around the root, and the
 * body leads from there to the lip clip; a leak leads there from the fluid in the chamber. Fluid
 * and tissue are eliminated by the star-mesh transform. Holds the last result.
 */
public final class Outlet {
  private double siemensRe;
  private double siemensIm;

  // a product divided by a sum
  private double x;
  private double y;

  /** Nothing worked out yet. */
  public Outlet() {}

  /**
   * Works out the admittance. All are in S, real part first.
   *
   * @param directRe from file to tissue
   * @param directIm its imaginary part
   * @param fileRe from file to the fluid in the chamber
   * @param fileIm its imaginary part
   * @param tissueRe from that fluid to the tissue
   * @param tissueIm its imaginary part
   * @param leakRe from that fluid to the lip clip
   * @param leakIm its imaginary part
   * @param bodyRe from the tissue to the lip clip
   * @param bodyIm its imaginary part
   */
  public void solve(
      double directRe,
      double directIm,
      double fileRe,
      double fileIm,
      double tissueRe,
      double tissueIm,
      double leakRe,
      double leakIm,
      double bodyRe,
      double bodyIm) {
    double sumRe = fileRe + tissueRe + leakRe;
    double sumIm = fileIm + tissueIm + leakIm;
    if (!(sumRe * sumRe + sumIm * sumIm > 0)) {
      sumRe = 1; // no fluid in the chamber: every product below is 0
    }
    share(fileRe, fileIm, leakRe, leakIm, sumRe, sumIm);
    double aroundRe = x;
    double aroundIm = y;
    share(fileRe, fileIm, tissueRe, tissueIm, sumRe, sumIm);
    double inRe = directRe + x;
    double inIm = directIm + y;
    share(tissueRe, tissueIm, leakRe, leakIm, sumRe, sumIm);
    double outRe = bodyRe + x;
    double outIm = bodyIm + y;
    share(inRe, inIm, outRe, outIm, inRe + outRe, inIm + outIm);
    siemensRe = aroundRe + x;
    siemensIm = aroundIm + y;
  }

  private void share(double aRe, double aIm, double bRe, double bIm, double sumRe, double sumIm) {
    double re = aRe * bRe - aIm * bIm;
    double im = aRe * bIm + aIm * bRe;
    double size = 1 / (sumRe * sumRe + sumIm * sumIm);
    x = (re * sumRe + im * sumIm) * size;
    y = (im * sumRe - re * sumIm) * size;
  }

  /**
   * Real part of the admittance worked out last.
   *
   * @return S
   */
  public double siemensRe() {
    return siemensRe;
  }

  /**
   * Imaginary part of it.
   *
   * @return S
   */
  public double siemensIm() {
    return siemensIm;
  }
}
