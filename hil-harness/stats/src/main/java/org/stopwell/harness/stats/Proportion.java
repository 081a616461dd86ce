package org.stopwell.harness.stats;

import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.statistics.distribution.BetaDistribution;

/**
 * A count out of a number of trials. Intervals come from the whole numbers, never from their ratio,
 * and hold at 0 out of n and n out of n.
 *
 * @param count how many trials counted
 * @param trials out of how many
 */
public record Proportion(long count, long trials) {
  /**
   * Checks the counts.
   *
   * @throws IllegalArgumentException unless 0 ≤ count ≤ trials
   */
  public Proportion {
    if (count < 0 || count > trials) {
      throw new IllegalArgumentException(
          "count " + count + " of " + trials + " trials, must be 0 to " + trials);
    }
  }

  /**
   * Count over trials.
   *
   * @return 0 to 1, empty without trials
   */
  public OptionalDouble estimate() {
    return trials == 0 ? OptionalDouble.empty() : OptionalDouble.of((double) count / trials);
  }

  /**
   * The exact two-sided interval of Clopper and Pearson (Biometrika 26, 1934, 404): each tail holds
   * at most half of what the confidence leaves.
   *
   * @param confidence two-sided confidence, 0 to 1 exclusive
   * @return the interval, empty without trials
   */
  public Optional<Interval> clopperPearson(double confidence) {
    if (trials == 0) {
      return Optional.empty();
    }
    double tail = (1 - checked(confidence)) / 2;
    return Optional.of(new Interval(low(tail), high(tail)));
  }

  /**
   * The exact one-sided lower bound: with this confidence the true share is not below it.
   *
   * @param confidence one-sided confidence, 0 to 1 exclusive
   * @return the bound, empty without trials
   */
  public OptionalDouble lowerBound(double confidence) {
    double tail = 1 - checked(confidence);
    return trials == 0 ? OptionalDouble.empty() : OptionalDouble.of(low(tail));
  }

  /**
   * The exact one-sided upper bound: with this confidence the true share is not above it. "0 of n"
   * never stands without it.
   *
   * @param confidence one-sided confidence, 0 to 1 exclusive
   * @return the bound, empty without trials
   */
  public OptionalDouble upperBound(double confidence) {
    double tail = 1 - checked(confidence);
    return trials == 0 ? OptionalDouble.empty() : OptionalDouble.of(high(tail));
  }

  /** Where the chance of this count or more equals the tail: I_p(k, n−k+1) = tail. */
  private double low(double tail) {
    if (count == 0) {
      return 0;
    }
    if (count == trials) {
      return Math.exp(Math.log(tail) / trials);
    }
    BetaDistribution beta = BetaDistribution.of((double) count, trials - count + 1.0);
    return Bisection.solve(beta::cumulativeProbability, tail, 0, 1);
  }

  /** Where the chance of this count or less equals the tail: I_p(k+1, n−k) = 1 − tail. */
  private double high(double tail) {
    if (count == trials) {
      return 1;
    }
    if (count == 0) {
      return -Math.expm1(Math.log(tail) / trials);
    }
    BetaDistribution beta = BetaDistribution.of(count + 1.0, (double) (trials - count));
    return Bisection.solve(p -> -beta.survivalProbability(p), -tail, 0, 1);
  }

  private static double checked(double confidence) {
    if (!(confidence > 0 && confidence < 1)) {
      throw new IllegalArgumentException("confidence " + confidence + ", must be above 0, below 1");
    }
    return confidence;
  }
}
