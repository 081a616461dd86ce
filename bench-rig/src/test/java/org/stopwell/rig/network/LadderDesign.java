package org.stopwell.rig.network;

import java.util.ArrayList;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.DoubleUnaryOperator;
import java.util.function.ToDoubleFunction;

/**
 * Values to buy for a ladder without gaps.
 *
 * <p>With exact resistors one would double from one to the next. With real ones a greater one may
 * come out so great, and the smaller ones so small, that no code falls in between. So each next
 * value is the greatest of its series for which even the worst case leaves no gap wider than the
 * step: its greatest weight is at most the sum of the least weights of all before it, plus the
 * step. The weight of a resistor is what opening its switch adds.
 *
 * @param stepOhms the widest gap allowed, Ω
 * @param tolerance half width of the resistors' tolerance, as a share
 * @param switches what the switches promise
 * @param nominalOhms the values to buy, ascending, Ω
 */
public record LadderDesign(
    double stepOhms, double tolerance, SwitchSpec switches, List<Double> nominalOhms) {

  /** Copies the values. */
  public LadderDesign {
    nominalOhms = List.copyOf(nominalOhms);
  }

  /**
   * Chooses values.
   *
   * @param stepOhms the widest gap allowed, Ω
   * @param mostOhms resistance that even the worst case must reach, Ω
   * @param series the series to choose from
   * @param tolerance half width of the resistors' tolerance, as a share
   * @param switches what the switches promise
   * @return the design
   */
  public static LadderDesign choose(
      double stepOhms, double mostOhms, ESeries series, double tolerance, SwitchSpec switches) {
    if (!(stepOhms > 0 && mostOhms > stepOhms && tolerance >= 0 && tolerance < 0.5)) {
      throw new IllegalArgumentException(
          "step "
              + stepOhms
              + " Ω, reach "
              + mostOhms
              + " Ω, tolerance "
              + tolerance
              + ": must be 0 < step < reach and 0 <= tolerance < 0.5");
    }
    List<Double> nominal = new ArrayList<>();
    double covered = 0;
    while (covered < mostOhms) {
      if (nominal.size() == Ladder.MAX_RUNGS) {
        throw new IllegalArgumentException(
            "step "
                + stepOhms
                + " Ω up to "
                + mostOhms
                + " Ω needs more than "
                + Ladder.MAX_RUNGS
                + " resistors of this tolerance");
      }
      double limit = covered + stepOhms;
      double next = series.atMost((limit + switches.mostOnOhms()) / (1 - tolerance));
      while (mostWeight(next, tolerance, switches) > limit) {
        next = series.atMost(next * (1 - 1e-9));
      }
      nominal.add(next);
      covered += leastWeight(next, tolerance, switches);
    }
    return new LadderDesign(stepOhms, tolerance, switches, nominal);
  }

  private static double mostWeight(double nominal, double tolerance, SwitchSpec s) {
    double ohms = nominal * (1 + tolerance);
    return ohms - new Rung(ohms, s.leastOnOhms(), Double.POSITIVE_INFINITY).bridged();
  }

  private static double leastWeight(double nominal, double tolerance, SwitchSpec s) {
    Rung rung = new Rung(nominal * (1 - tolerance), s.mostOnOhms(), s.leastOffOhms());
    return rung.inLine() - rung.bridged();
  }

  /**
   * A ladder of exact parts.
   *
   * @return the ladder
   */
  public Ladder nominal() {
    double on = (switches.leastOnOhms() + switches.mostOnOhms()) / 2;
    return ladder(ohms -> ohms, nominal -> on);
  }

  /**
   * A ladder as it may come out.
   *
   * @param uniform a number from -1 to 1 for each resistor and each switch: where it lies within
   *     its tolerance
   * @return the ladder
   */
  public Ladder built(ToDoubleFunction<Double> uniform) {
    double middle = (switches.leastOnOhms() + switches.mostOnOhms()) / 2;
    double half = (switches.mostOnOhms() - switches.leastOnOhms()) / 2;
    return ladder(
        ohms -> ohms * (1 + tolerance * uniform.applyAsDouble(ohms)),
        ohms -> middle + half * uniform.applyAsDouble(ohms));
  }

  private Ladder ladder(DoubleUnaryOperator resistor, DoubleUnaryOperator on) {
    return new Ladder(
        nominalOhms.stream()
            .map(
                ohms ->
                    new Rung(
                        resistor.applyAsDouble(ohms),
                        on.applyAsDouble(ohms),
                        switches.leastOffOhms()))
            .toList());
  }

  /**
   * What to buy.
   *
   * @return how many resistors of each value, by Ω
   */
  public SortedMap<Double, Integer> bill() {
    SortedMap<Double, Integer> bill = new TreeMap<>();
    nominalOhms.forEach(ohms -> bill.merge(ohms, 1, Integer::sum));
    return bill;
  }
}
