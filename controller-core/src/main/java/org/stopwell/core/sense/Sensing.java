package org.stopwell.core.sense;

import org.stopwell.core.frame.ControllerInput;

/**
 * A sensing policy: what one sample says about where the file is. It keeps no state, allocates
 * nothing and never throws.
 */
@FunctionalInterface
public interface Sensing {
  /**
   * Reads one new sample.
   *
   * @param in a plausible input
   * @param out cleared before the call; receives what the sample says
   */
  void read(ControllerInput in, Measurement out);
}
