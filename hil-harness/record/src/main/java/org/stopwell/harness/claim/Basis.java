package org.stopwell.harness.claim;

import java.util.Optional;
import java.util.OptionalDouble;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Verdict;

/** What the outcome of a claim rests on. */
public sealed interface Basis {
  /**
   * Trials that share canals, or levels of a factor: each of these counts as one number.
   *
   * @param clusters how many canals or levels
   * @param group the factor whose levels the trials share, or {@link #TOOTH}; empty when they share
   *     canals
   */
  record Clustering(int clusters, String group) {
    /** Trials share teeth. No factor of a plan has a name with a slash. */
    static final String TOOTH = "/tooth";

    /**
     * What they share, in words.
     *
     * @return in the singular or the plural
     */
    public String words() {
      boolean one = clusters == 1;
      if (group.equals(TOOTH)) {
        return one ? "tooth" : "teeth";
      }
      return group.isEmpty()
          ? one ? "canal" : "canals"
          : (one ? "level of " : "levels of ") + group;
    }
  }

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
   * @param unstopped the trials without a stop, which have no error
   */
  record Mean(
      double confidence,
      long stops,
      OptionalDouble mean,
      Optional<Clustering> clustering,
      Unstopped unstopped)
      implements Basis {}

  /**
   * The trials without a stop of a claim on the mean of the stops. Without a bound on them, a
   * controller that refuses every difficult canal would meet the claim.
   *
   * @param counted trials without a stop out of all analysed
   * @param confidence one-sided confidence of the bound
   * @param atMost with this confidence their true share is not above it, 0 to 1
   * @param verdict whether that bound meets what the claim tolerates
   * @param worst interval of the mean with each of them at the error of the worst stop, first to
   *     one side, then to the other, µm; empty without such trials or where it cannot be given
   */
  record Unstopped(
      Proportion counted,
      double confidence,
      double atMost,
      Verdict verdict,
      Optional<Interval> worst) {
    Unstopped with(Optional<Interval> interval) {
      return new Unstopped(counted, confidence, atMost, verdict, interval);
    }
  }

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
