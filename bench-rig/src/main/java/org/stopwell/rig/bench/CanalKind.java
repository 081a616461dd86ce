package org.stopwell.rig.bench;

/** What stands where the tooth stands. */
public enum CanalKind {
  /** A tooth that holds fluid. */
  TOOTH,
  /** A network of resistors. */
  RESISTORS,
  /** The same tooth, modelled by a second network. */
  LUMPED,
  /** Resistors and capacitors that show the magnitudes of the tooth at two frequencies. */
  NETWORK,
  /** The same tooth, modelled by a third network. */
  MESHED,
  /** The same tooth as a field around one axis. */
  FIELD,
  /**
   * Resistors and fixed capacitors that show magnitude and phase of the tooth from 0.2 to 20 kHz.
   */
  CHAIN;

  /**
   * Whether the impedance follows from the place alone.
   *
   * @return true for what is built of components
   */
  public boolean isBuilt() {
    return this == RESISTORS || this == NETWORK || this == CHAIN;
  }
}
