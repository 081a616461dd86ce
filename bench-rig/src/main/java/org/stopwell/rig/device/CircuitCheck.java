package org.stopwell.rig.device;

/**
 * What the bench finds when it verifies the floating network before and after a trial, with the
 * device switched off it.
 *
 * @param closed whether both cables of the device carry current
 * @param leakKiloOhms resistance between the network and everything else, kΩ
 * @param strayPicoFarads capacitance between the network and everything else, pF
 */
public record CircuitCheck(boolean closed, int leakKiloOhms, int strayPicoFarads) {
  /** The least resistance of a floating network, kΩ. */
  public static final int LEAK_KILO_OHMS = 100_000;

  /** The greatest stray capacitance of a floating network, pF. */
  public static final int STRAY_PICO_FARADS = 60;

  /** A network in order. */
  public static final CircuitCheck SOUND = new CircuitCheck(true, 1_000_000, 30);

  /**
   * Whether the network floats.
   *
   * @return true above {@link #LEAK_KILO_OHMS} and up to {@link #STRAY_PICO_FARADS}
   */
  public boolean floats() {
    return leakKiloOhms >= LEAK_KILO_OHMS && strayPicoFarads <= STRAY_PICO_FARADS;
  }
}
