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
   * Share of the current that goes through the leak, and not through tissue and body. All are in S,
   * real part first.
   *
   * @param directRe from file to tissue
   * @param directIm its imaginary part
   * @param fileRe from file to the fluid in the chamber
   * @param fileIm its imaginary part
   * @param wallRe from that fluid to the tissue
   * @param wallIm its imaginary part
   * @param leak from that fluid to the lip clip, above 0
   * @param bodyRe from the tissue to the lip clip
   * @param bodyIm its imaginary part
   * @return 0 to 1
   */
  public static double leakShare(
      double directRe,
      double directIm,
      double fileRe,
      double fileIm,
      double wallRe,
      double wallIm,
      double leak,
      double bodyRe,
      double bodyIm) {
    // Two nodes, fluid in the chamber and tissue, with the file at 1 V and the lip clip at 0 V; the
    // determinant of their equations divides both voltages and cancels.
    double chamberRe = fileRe + wallRe + leak;
    double chamberIm = fileIm + wallIm;
    double tissueRe = directRe + wallRe + bodyRe;
    double tissueIm = directIm + wallIm + bodyIm;
    double aroundRe = fileRe * tissueRe - fileIm * tissueIm + wallRe * directRe - wallIm * directIm;
    double aroundIm = fileRe * tissueIm + fileIm * tissueRe + wallRe * directIm + wallIm * directRe;
    double throughRe =
        directRe * chamberRe - directIm * chamberIm + wallRe * fileRe - wallIm * fileIm;
    double throughIm =
        directRe * chamberIm + directIm * chamberRe + wallRe * fileIm + wallIm * fileRe;
    double around = leak * Math.sqrt(aroundRe * aroundRe + aroundIm * aroundIm);
    double bodySize = bodyRe * bodyRe + bodyIm * bodyIm;
    double through = Math.sqrt(bodySize * (throughRe * throughRe + throughIm * throughIm));
    return around / (around + through);
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
