package org.stopwell.rig.proof;

/** The person at the bench, if there is one. */
@FunctionalInterface
public interface Operator {
  /** Nobody is there: checks that need a hand are not done. */
  Operator NOBODY = request -> false;

  /**
   * Asks for something to be done by hand.
   *
   * @param request what to do, in one sentence
   * @return true once it is done, false without a person
   */
  boolean asked(String request);
}
