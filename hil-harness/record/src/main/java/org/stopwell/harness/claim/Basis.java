package org.stopwell.harness.claim;

import java.util.Optional;
import java.util.OptionalDouble;
import org.stopwell.harness.protocol.StoppingRule;

/** What the outcome of a claim rests on. */
public sealed interface Basis {
  /**
   * Trials that share canals, or levels of a factor: each of these counts as one number.
   *
   * @param clusters how many canals or levels
   * @param group the factor whose levels the trials share; empty when they share canals
   */
  record Clustering(int clusters, String group) {}

  /**
   * A share of all trials.
   *
   * @param confidence one-sided confidence of each bound
   * @param plannedBand whether a condition has its standoff past the foramen on purpose
   * @param clustering what the trials share, empty when they are independent
   */
  record Share(double confidence, boolean plannedBand, Optional<Clustering> clustering)
      implements Basis {}

  /**
   * A mean of all stops.
   *
   * @param confidence two-sided confidence of its interval
   * @param stops how many stops
   * @param mean their mean, µm, or that of the means of the canals; empty without stops
   * @param clustering what the trials share, empty when they are independent
   */
  record Mean(double confidence, long stops, OptionalDouble mean, Optional<Clustering> clustering)
      implements Basis {}

  /**
   * One look of several at a campaign under way.
   *
   * @param number which look, from 1
   * @param looks how many the plan allows
   * @param seen what the look saw
   */
  record Look(int number, int looks, Basis seen) implements Basis {}

  /**
   * A rule that may decide after every trial.
   *
   * @param rule the rule
   * @param cap most trials that the plan allows
   * @param spoiled trials that the rig spoiled, where these alone keep the claim open; else 0
   */
  record EveryTrial(StoppingRule.Kind rule, int cap, int spoiled) implements Basis {}
}
