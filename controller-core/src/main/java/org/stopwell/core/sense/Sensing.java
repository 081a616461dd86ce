package org.stopwell.core.sense;

import org.stopwell.core.frame.ControllerInput;

/**
 * A sensing policy: what one sample says about where the file is, and what the samples before it
 * say if it remembers them. It allocates nothing and never throws.
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

  /** Forgets the samples so far, after a fault of time. */
  default void forget() {}

  /**
   * Folds in the state, if there is any.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  default long mixInto(long hash) {
    return hash;
  }
}
