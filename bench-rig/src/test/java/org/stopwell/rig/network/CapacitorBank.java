package org.stopwell.rig.network;

import java.util.List;

/**
 * Capacitors side by side, each with a switch in line. A bit of the code that is 1 closes the
 * switch. Bank and ladder are in parallel.
 *
 * @param farads the capacitors, bit 0 first, F
 * @param onOhms a closed switch, Ω
 */
public record CapacitorBank(List<Double> farads, double onOhms) {
  static final int MAX = 10;

  /** A bank without capacitors. */
  public static final CapacitorBank NONE = new CapacitorBank(List.of(), 0);

  /** Copies the list and checks the values. */
  public CapacitorBank {
    farads = List.copyOf(farads);
    if (farads.size() > MAX || farads.stream().anyMatch(f -> !(f > 0)) || !(onOhms >= 0)) {
      throw new IllegalArgumentException(
          farads + " F, " + onOhms + " Ω: at most " + MAX + " capacitors above 0 F, 0 Ω or more");
    }
  }

  /**
   * The capacitance of a code, switches left out.
   *
   * @param code one bit per capacitor
   * @return F
   */
  public double farads(int code) {
    double sum = 0;
    for (int i = 0; i < farads.size(); i++) {
      sum += (code >> i & 1) == 1 ? farads.get(i) : 0;
    }
    return sum;
  }

  /**
   * The code whose capacitance is nearest.
   *
   * @param wanted the capacitance wanted, F
   * @return the code
   */
  public int codeFor(double wanted) {
    int best = 0;
    for (int code = 1; code < 1 << farads.size(); code++) {
      if (Math.abs(farads(code) - wanted) < Math.abs(farads(best) - wanted)) {
        best = code;
      }
    }
    return best;
  }
}
