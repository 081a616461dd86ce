package org.stopwell.harness.stats;

import java.util.OptionalInt;

/**
 * Wald's sequential test of a share of misses (Sequential Analysis, 1947), with a cap on its
 * length: stop as soon as the misses say good or bad, and say undecided at the cap.
 *
 * <p>It accepts where the likelihood ratio of bad to good is at most β, and rejects where it is at
 * least 1/α. Over all ways to accept, the bad share is then at most β times as likely as the good
 * one, so it is accepted with a chance of at most β, exactly and at every cap; and the good one is
 * rejected with at most α. Wald's β/(1 − α) and (1 − β)/α keep these chances only roughly.
 *
 * @param good share of misses that shall be accepted
 * @param bad share of misses that shall be rejected, above good
 * @param alpha greatest chance of rejecting the good share
 * @param beta greatest chance of accepting the bad share
 * @param cap most trials
 */
public record Sprt(double good, double bad, double alpha, double beta, int cap) {
  /** The state of the test. */
  public enum Decision {
    /** Open. */
    GO_ON,
    /** The share of misses is good. */
    ACCEPT,
    /** The share of misses is bad. */
    REJECT,
    /** The cap was reached without a decision. */
    UNDECIDED
  }

  /**
   * How the test behaves at a true share, computed exactly.
   *
   * @param accept chance of accepting
   * @param reject chance of rejecting
   * @param undecided chance of reaching the cap undecided
   * @param meanTrials mean number of trials
   */
  public record Behaviour(double accept, double reject, double undecided, double meanTrials) {}

  /**
   * Checks the plan.
   *
   * @throws IllegalArgumentException when a number is out of its range
   */
  public Sprt {
    if (!(good > 0 && good < bad && bad < 1)
        || !(alpha > 0 && alpha < 0.5)
        || !(beta > 0 && beta < 0.5)
        || cap < 1) {
      throw new IllegalArgumentException(
          "good "
              + good
              + " must be above 0 and below bad "
              + bad
              + ", below 1; alpha "
              + alpha
              + " and beta "
              + beta
              + " between 0 and 0.5; cap "
              + cap
              + " at least 1");
    }
  }

  private double perMiss() {
    return Math.log(bad * (1 - good) / (good * (1 - bad)));
  }

  /**
   * How fast both lines rise: misses per trial.
   *
   * @return ln((1 − good)/(1 − bad)) / ln(bad (1 − good) / (good (1 − bad)))
   */
  public double slope() {
    return Math.log((1 - good) / (1 - bad)) / perMiss();
  }

  /**
   * Where the line of acceptance begins.
   *
   * @return intercept, in misses, below 0
   */
  public double acceptIntercept() {
    return Math.log(beta) / perMiss();
  }

  /**
   * Where the line of rejection begins.
   *
   * @return intercept, in misses, above 0
   */
  public double rejectIntercept() {
    return -Math.log(alpha) / perMiss();
  }

  /**
   * What to do after some trials.
   *
   * @param trials how many so far
   * @param misses how many of them missed
   * @return the decision
   */
  public Decision decide(int trials, int misses) {
    double line = slope() * trials;
    if (misses <= acceptIntercept() + line) {
      return Decision.ACCEPT;
    }
    if (misses >= rejectIntercept() + line) {
      return Decision.REJECT;
    }
    return trials >= cap ? Decision.UNDECIDED : Decision.GO_ON;
  }

  /**
   * How the test behaves, by going through every number of misses after every trial.
   *
   * @param share true share of misses, 0 to 1
   * @return exact chances and mean length
   */
  public Behaviour behaviour(double share) {
    return walk(share, Double.POSITIVE_INFINITY).behaviour;
  }

  /**
   * Fewest trials to plan, as the cap, for a chance of accepting.
   *
   * @param share true share of misses, 0 to 1
   * @param power wanted chance
   * @return number of trials, empty beyond the cap of this test
   */
  public OptionalInt leastCap(double share, double power) {
    Walk walk = walk(share, power);
    return walk.behaviour.accept >= power ? OptionalInt.of(walk.trials) : OptionalInt.empty();
  }

  private record Walk(int trials, Behaviour behaviour) {}

  /** From trial to trial, until the chance of having accepted is enough. */
  private Walk walk(double share, double enough) {
    double[] live = {1};
    double accept = 0;
    double reject = 0;
    double undecided = 0;
    double mean = 0;
    int n = 0;
    while (n < cap && accept < enough) {
      n++;
      double[] next = new double[live.length + 1];
      double going = 0;
      for (int x = 0; x < live.length; x++) {
        going += live[x];
        next[x] += live[x] * (1 - share);
        next[x + 1] += live[x] * share;
      }
      mean += going;
      for (int x = 0; x < next.length; x++) {
        switch (decide(n, x)) {
          case ACCEPT -> accept += next[x];
          case REJECT -> reject += next[x];
          case UNDECIDED -> undecided += next[x];
          case GO_ON -> {
            continue;
          }
        }
        next[x] = 0;
      }
      live = next;
    }
    return new Walk(n, new Behaviour(accept, reject, undecided, mean));
  }
}
