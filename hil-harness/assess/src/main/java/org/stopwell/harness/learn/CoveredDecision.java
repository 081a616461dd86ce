package org.stopwell.harness.learn;

/**
 * A decision with the factor of a bound that was made without its tooth.
 *
 * @param decision the decision
 * @param factor bound over standard error
 */
record CoveredDecision(DecidingReading decision, double factor) {
  boolean within() {
    return decision.missMm() <= boundMm();
  }

  double boundMm() {
    return factor * decision.errorMm();
  }
}
