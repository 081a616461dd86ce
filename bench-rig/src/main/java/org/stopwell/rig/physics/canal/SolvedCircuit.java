package org.stopwell.rig.physics.canal;

/** A circuit that keeps the impedances that it solved last. */
abstract class SolvedCircuit implements MeasuringCircuit {
  /** Real parts, Ω, a frequency each. */
  final double[] re;

  /** Imaginary parts, Ω, a frequency each. */
  final double[] im;

  SolvedCircuit(int frequencies) {
    re = new double[frequencies];
    im = new double[frequencies];
  }

  @Override
  public final double ohmsRe(int frequency) {
    return re[frequency];
  }

  @Override
  public final double ohmsIm(int frequency) {
    return im[frequency];
  }
}
