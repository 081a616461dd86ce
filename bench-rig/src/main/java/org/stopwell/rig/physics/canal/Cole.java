package org.stopwell.rig.physics.canal;

/**
 * A Cole element at one frequency: {@code R∞ + (R0 − R∞)/(1 + (jf/fc)^α)}.
 *
 * <p>Source: Cole, Cold Spring Harbor Symposia on Quantitative Biology 1940;8:110, from memory.
 *
 * @param ohmsRe real part, Ω
 * @param ohmsIm imaginary part, Ω
 */
public record Cole(double ohmsRe, double ohmsIm) {
  /**
   * The element at a frequency.
   *
   * @param lowOhms resistance at low frequency, Ω
   * @param highOhms resistance at high frequency, Ω
   * @param cornerHertz corner frequency, Hz
   * @param exponent α, 0 to 1
   * @param hertz frequency, Hz
   * @return its impedance
   */
  public static Cole of(
      double lowOhms, double highOhms, double cornerHertz, double exponent, double hertz) {
    PhaseElement turn = PhaseElement.of(1, exponent, hertz / cornerHertz);
    double sumRe = 1 + turn.siemensRe();
    double sumIm = turn.siemensIm();
    double scale = (lowOhms - highOhms) / (sumRe * sumRe + sumIm * sumIm);
    return new Cole(highOhms + sumRe * scale, -sumIm * scale);
  }
}
