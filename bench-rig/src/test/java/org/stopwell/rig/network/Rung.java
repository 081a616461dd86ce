package org.stopwell.rig.network;

/**
 * One resistor of a ladder as it really is, with the switch that bridges it.
 *
 * @param ohms the resistor, Ω
 * @param onOhms its switch when closed, Ω
 * @param offOhms its switch when open, Ω
 */
public record Rung(double ohms, double onOhms, double offOhms) {
  /**
   * With the switch open.
   *
   * @return Ω
   */
  public double inLine() {
    return parallel(ohms, offOhms);
  }

  /**
   * With the switch closed.
   *
   * @return Ω
   */
  public double bridged() {
    return parallel(ohms, onOhms);
  }

  private static double parallel(double a, double b) {
    return Double.isInfinite(b) ? a : a * b / (a + b);
  }
}
