package org.stopwell.rig.network;

import java.util.ArrayList;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.ToDoubleFunction;

/**
 * Capacitors to buy for a bank without gaps: by the rule of {@link LadderDesign}, with capacitances
 * that add up side by side in place of resistances in a line.
 *
 * @param stepFarads the widest gap allowed, F
 * @param tolerance half width of the capacitors' tolerance, as a share
 * @param onOhms a closed switch, Ω
 * @param nominalFarads the values to buy, ascending, F
 */
public record CapacitorDesign(
    double stepFarads, double tolerance, double onOhms, List<Double> nominalFarads) {

  /** Copies the values. */
  public CapacitorDesign {
    nominalFarads = List.copyOf(nominalFarads);
  }

  /**
   * Chooses values.
   *
   * @param stepFarads the widest gap allowed, F
   * @param mostFarads capacitance that even the worst case must reach, F
   * @param series the series to choose from
   * @param tolerance half width of the capacitors' tolerance, as a share
   * @param onOhms a closed switch, Ω
   * @return the design
   * @throws IllegalArgumentException when it needs more capacitors than a bank may have
   */
  public static CapacitorDesign choose(
      double stepFarads, double mostFarads, ESeries series, double tolerance, double onOhms) {
    if (!(stepFarads > 0 && mostFarads > stepFarads && tolerance >= 0 && tolerance < 0.5)) {
      throw new IllegalArgumentException(
          "step "
              + stepFarads
              + " F, reach "
              + mostFarads
              + " F, tolerance "
              + tolerance
              + ": must be 0 < step < reach and 0 <= tolerance < 0.5");
    }
    List<Double> nominal = new ArrayList<>();
    double covered = 0;
    while (covered < mostFarads) {
      if (nominal.size() == CapacitorBank.MAX) {
        throw new IllegalArgumentException(
            "step "
                + stepFarads
                + " F up to "
                + mostFarads
                + " F needs more than "
                + CapacitorBank.MAX
                + " capacitors of this tolerance");
      }
      double next = series.atMost((covered + stepFarads) / (1 + tolerance));
      nominal.add(next);
      covered += next * (1 - tolerance);
    }
    return new CapacitorDesign(stepFarads, tolerance, onOhms, nominal);
  }

  /**
   * A bank as it may come out.
   *
   * @param uniform a number from -1 to 1 for each capacitor: where it lies within its tolerance
   * @return the bank
   */
  public CapacitorBank built(ToDoubleFunction<Double> uniform) {
    return new CapacitorBank(
        nominalFarads.stream()
            .map(farads -> farads * (1 + tolerance * uniform.applyAsDouble(farads)))
            .toList(),
        onOhms);
  }

  /**
   * What to buy.
   *
   * @return how many capacitors of each value, by F
   */
  public SortedMap<Double, Integer> bill() {
    SortedMap<Double, Integer> bill = new TreeMap<>();
    nominalFarads.forEach(farads -> bill.merge(farads, 1, Integer::sum));
    return bill;
  }
}
