package org.stopwell.core.guard;

import org.stopwell.core.frame.Reason;

/** Gathers what all guards ask for in one step; the most careful reaction wins. */
public final class Arbiter {
  private Reaction reaction = Reaction.NONE;
  private Reason reason = Reason.STARTED_UP;

  /** With nothing asked for. */
  public Arbiter() {}

  /** Forgets the step before. */
  public void clear() {
    reaction = Reaction.NONE;
    reason = Reason.STARTED_UP;
  }

  /**
   * Asks for a reaction. Among equals the first one asked for gives the reason.
   *
   * @param asked the reaction
   * @param why its reason
   */
  public void ask(Reaction asked, Reason why) {
    if (asked.compareTo(reaction) > 0) {
      reaction = asked;
      reason = why;
    }
  }

  /**
   * The most careful reaction asked for.
   *
   * @return {@link Reaction#NONE} when nothing was asked for
   */
  public Reaction reaction() {
    return reaction;
  }

  /**
   * Why.
   *
   * @return the reason of {@link #reaction()}
   */
  public Reason reason() {
    return reason;
  }
}
