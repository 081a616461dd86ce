package org.stopwell.core.policy;

import org.stopwell.core.guard.Reaction;

/**
 * A torque policy: what a touch of the torque limit asks for while the file is driven. It allocates
 * nothing and never throws. The limit itself is not a policy, and less than rocking is taken as a
 * hold.
 */
@FunctionalInterface
public interface TorqueReaction {
  /**
   * The reaction to a touch.
   *
   * @param set what {@code on_torque} of the stage says
   * @param used how often in a row the limit was touched before
   * @param retries what {@code retries} of the stage says
   * @return the reaction
   */
  Reaction onLimit(Reaction set, int used, int retries);
}
