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
