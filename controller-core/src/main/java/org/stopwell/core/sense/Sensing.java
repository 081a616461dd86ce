package org.stopwell.core.sense;

import java.util.Optional;
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

  /**
   * What the length stage has taught about this canal.
   *
   * @return empty when nothing was learned or the policy does not learn
   */
  default Optional<LearnedCanal> learned() {
    return Optional.empty();
  }

  /**
   * Takes up what an earlier length stage has taught about this canal.
   *
   * @param canal what {@link #learned} gave
   * @return whether it is in use
   */
  default boolean recall(LearnedCanal canal) {
    return false;
  }

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
