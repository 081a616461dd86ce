package org.stopwell.harness.claim;

import java.util.Optional;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.stats.Moments;

/** What the outcome of a claim rests on. */
public sealed interface Basis {
  /**
   * Trials that share canals, or levels of a factor.
   *
   * @param clusters how many canals or levels
   * @param group the factor whose levels the trials share; empty when they share canals
   * @param correlation least intraclass correlation that is assumed, 0 for none
   */
  record Clustering(int clusters, String group, double correlation) {}

  /**
   * A share of all trials.
   *
   * @param confidence one-sided confidence of each bound
   * @param plannedBand whether a condition has its standoff past the foramen on purpose
   * @param effectiveTrials independent trials that the trials are worth
   * @param clustering what the trials share, empty when they are independent
   */
  record Share(
      double confidence,
      boolean plannedBand,
      double effectiveTrials,
      Optional<Clustering> clustering)
      implements Basis {}

  /**
   * A mean of all stops.
   *
   * @param confidence two-sided confidence of its interval
   * @param errors the stop errors, µm
   * @param clustering what the trials share, empty when they are independent
   */
  record Mean(double confidence, Moments errors, Optional<Clustering> clustering)
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
