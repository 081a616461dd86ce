package org.stopwell.rig.network;

import java.util.List;

/**
 * A ladder of resistors with a bank of capacitors across it.
 *
 * @param ladder the resistors
 * @param bank the capacitors
 */
public record Network(Ladder ladder, CapacitorBank bank) {

  /**
   * Which switches to set.
   *
   * @param resistors code of the ladder
   * @param capacitors code of the bank
   */
  public record Code(int resistors, int capacitors) {}

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
            low
                + " and "
                + high
                + ": no resistor and capacitor side by side have these magnitudes");
      }
      return new Pair(1 / Math.sqrt(siemens2), Math.sqrt(farads2));
    }

    /**
     * How far the magnitude of another pair is off at a frequency, as a share, resistor or both.
     */
    double miss(Pair other, double radPerS) {
      double both =
          Math.hypot(1 / other.ohms, radPerS * other.farads)
              / Math.hypot(1 / ohms, radPerS * farads);
      return Math.max(Math.abs(other.ohms / ohms - 1), Math.abs(both - 1));
    }
  }

  /**
   * What is wanted at one frequency.
   *
   * @param hertz the frequency, Hz
   * @param impedance what is wanted there
   */
  public record Target(double hertz, Impedance impedance) {}

  /**
   * The impedance of a code, switches included.
   *
   * @param code which switches are set
   * @param hertz the frequency, Hz
   * @return the impedance
   */
  public Impedance impedance(Code code, double hertz) {
    Impedance sum = new Impedance(1 / ladder.ohms(code.resistors()), 0);
    double omega = 2 * Math.PI * hertz;
    for (int i = 0; i < bank.farads().size(); i++) {
      if ((code.capacitors() >> i & 1) == 1) {
        sum = sum.plus(new Impedance(bank.onOhms(), -1 / (omega * bank.farads().get(i))).inverse());
      }
    }
    return sum.inverse();
  }

  /**
   * The code nearest to a pair.
   *
   * @param pair what is wanted
   * @return the code nearest to both values
   */
  public Code codeFor(Pair pair) {
    return new Code(ladder.codeFor(pair.ohms()), bank.codeFor(pair.farads()));
  }

  private static double square(Impedance of) {
    return of.re() * of.re() + of.im() * of.im();
  }

  /**
   * The best code for targets at one or more frequencies.
   *
   * <p>With Y = G + jωC and wanted Yₖ, the sum of |Y − Yₖ|²/|Yₖ|² falls apart into one part in G
   * and one in C, so each has its best value in closed form: G = Σ Re Yₖ/|Yₖ|² / Σ 1/|Yₖ|², C = Σ
   * ωₖ Im Yₖ/|Yₖ|² / Σ ωₖ²/|Yₖ|². The codes nearest to them are taken.
   *
   * @param targets what is wanted, at least one
   * @return the code
   */
  public Code codeFor(List<Target> targets) {
    double conductance = 0;
    double weights = 0;
    double susceptance = 0;
    double squares = 0;
    for (Target target : targets) {
      Impedance wanted = target.impedance().inverse();
      double weight = 1 / (wanted.re() * wanted.re() + wanted.im() * wanted.im());
      double omega = 2 * Math.PI * target.hertz();
      conductance += wanted.re() * weight;
      weights += weight;
      susceptance += omega * wanted.im() * weight;
      squares += omega * omega * weight;
    }
    return new Code(
        ladder.codeFor(weights / conductance), bank.codeFor(Math.max(0, susceptance / squares)));
  }

  /**
   * The worst relative error of a code.
   *
   * @param code which switches are set
   * @param targets what is wanted
   * @return a share, at least 0
   */
  public double worstError(Code code, List<Target> targets) {
    return targets.stream()
        .mapToDouble(t -> t.impedance().relativeError(impedance(code, t.hertz())))
        .max()
        .orElse(0);
  }
}
