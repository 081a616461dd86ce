package org.stopwell.rig.network;

/**
 * What the switch across a resistor promises.
 *
 * @param leastOnOhms least resistance when closed, Ω
 * @param mostOnOhms greatest resistance when closed, Ω
 * @param leastOffOhms least resistance when open, its leakage, Ω
 */
public record SwitchSpec(double leastOnOhms, double mostOnOhms, double leastOffOhms) {
  /** A small signal relay with gold contacts; values as such parts promise: assumed. */
  public static final SwitchSpec RELAY = new SwitchSpec(0.02, 0.15, 1e9);

  /** Checks the order of the values. */
  public SwitchSpec {
    if (!(leastOnOhms >= 0 && leastOnOhms <= mostOnOhms && mostOnOhms < leastOffOhms)) {
      throw new IllegalArgumentException(
          "on "
              + leastOnOhms
              + " to "
              + mostOnOhms
              + " Ω, off "
              + leastOffOhms
              + " Ω: must ascend from 0");
    }
  }
}
