package org.stopwell.harness.assess;

import org.stopwell.rig.population.Population.Fill;

/**
 * The reading at which a stop would be decided: the first of an approach below the standoff and
 * what a file usually runs on.
 *
 * @param family family of the tooth
 * @param fill how full the canal was
 * @param decided whether there was such a reading; a reading that is refused decides nothing
 * @param truth true distance to the foramen, mm
 * @param error estimate less truth, mm
 * @param standardError stated standard error, mm; after {@link #bounded} the stated bound
 * @param novelty how unlike the training the reading is
 */
record ApproachDecision(
    Family family,
    Fill fill,
    boolean decided,
    double truth,
    double error,
    double standardError,
    double novelty) {
  /** The same with the bound in place of the standard error; a reading too novel has none. */
  ApproachDecision bounded(Taught taught) {
    double bound =
        novelty > taught.noveltyLimit()
            ? Double.POSITIVE_INFINITY
            : taught.factor() * standardError;
    return new ApproachDecision(family, fill, decided, truth, error, bound, novelty);
  }

  /** Whether the reading was off by no more than a distance, mm. */
  boolean within(double mm) {
    return Math.abs(error) <= mm;
  }
}
