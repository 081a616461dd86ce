package org.stopwell.core.policy;

import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.guard.Reaction;

/**
 * A trust policy: what a reading that is not sure asks for. It allocates nothing and never throws.
 * It is not asked about a stale, open or saturated signal: that always holds.
 */
@FunctionalInterface
public interface TrustPolicy {
  /**
   * The reaction to lost trust.
   *
   * @param trust {@link Trust#DOUBTFUL} or {@link Trust#NONE}
   * @param cause why
   * @param onDoubtful what {@code on_doubtful} of the stage says; with cause {@link Cause#WIDE},
   *     what {@code on_wide} says
   * @param onNone what {@code on_none} of the stage says
   * @return the reaction
   */
  Reaction onLost(Trust trust, Cause cause, Reaction onDoubtful, Reaction onNone);
}
