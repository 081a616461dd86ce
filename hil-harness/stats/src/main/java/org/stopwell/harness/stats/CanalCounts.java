package org.stopwell.harness.stats;

import java.util.Arrays;
import org.apache.commons.statistics.distribution.BinomialDistribution;

/** How many of the trials in one canal succeed: the chance of each number, for simulations. */
public final class CanalCounts {
  private final double[] chances;

  private CanalCounts(double[] chances) {
    this.chances = chances;
  }

  /**
   * Canals whose own shares follow a beta distribution.
   *
   * @param trials trials in the canal, at least 1
   * @param share mean share of successes, 0 to 1
   * @param correlation intraclass correlation of the trials in one canal, 0 to 1
   * @return the beta-binomial distribution; the binomial one at 0, all or nothing at 1
   */
  public static CanalCounts betaBinomial(int trials, double share, double correlation) {
    check(trials, share, correlation);
    if (correlation == 0 || share == 0 || share == 1) {
      return new CanalCounts(binomial(trials, share));
    }
    if (correlation == 1) {
      return twoKinds(trials, share, 1);
    }
    double a = share * (1 - correlation) / correlation;
    double b = (1 - share) * (1 - correlation) / correlation;
    // In logarithms, as a ratio to the chance of no success: none is lost with many trials.
    double[] logs = new double[trials + 1];
    for (int k = 0; k < trials; k++) {
      logs[k + 1] = logs[k] + Math.log((trials - k) * (k + a) / ((k + 1) * (trials - k - 1 + b)));
    }
    double greatest = Arrays.stream(logs).max().orElseThrow();
    double[] chances = Arrays.stream(logs).map(log -> Math.exp(log - greatest)).toArray();
    double sum = Arrays.stream(chances).sum();
    return new CanalCounts(Arrays.stream(chances).map(c -> c / sum).toArray());
  }

  /**
   * Canals of two kinds: in good ones every trial succeeds, in bad ones each with the same chance.
   * The mean and the correlation are as asked for; the shares are as skew as they can be.
   *
   * @param trials trials in the canal, at least 1
   * @param share mean share of successes, above 0, below 1
   * @param correlation intraclass correlation of the trials in one canal, 0 to 1
   * @return the distribution
   */
  public static CanalCounts twoKinds(int trials, double share, double correlation) {
    check(trials, share, correlation);
    // Mean and variance: b v = 1 − p and v (1 − v) b² = ρ p (1 − p), with v bad ones that miss with
    // chance b.
    double miss = 1 - share + correlation * share;
    double bad = (1 - share) / miss;
    double[] chances =
        Arrays.stream(binomial(trials, 1 - miss)).map(chance -> bad * chance).toArray();
    chances[trials] += 1 - bad;
    return new CanalCounts(chances);
  }

  /**
   * The same where the rig spoils trials: a missing trial counts against a claim.
   *
   * @param lost share of trials that are lost, 0 to below 1
   * @return the distribution of successes that are left
   */
  public CanalCounts lost(double lost) {
    if (!(lost >= 0 && lost < 1)) {
      throw new IllegalArgumentException("lost share " + lost + ", must be 0 to below 1");
    }
    double[] left = new double[chances.length];
    for (int k = 0; k < chances.length; k++) {
      double[] kept = binomial(k, 1 - lost);
      for (int j = 0; j <= k; j++) {
        left[j] += chances[k] * kept[j];
      }
    }
    return new CanalCounts(left);
  }

  /**
   * The mean share of successes.
   *
   * @return 0 to 1
   */
  public double mean() {
    double mean = 0;
    for (int k = 1; k < chances.length; k++) {
      mean += chances[k] * k / trials();
    }
    return mean;
  }

  /** The share of successes of one canal, drawn by a uniform number from 0 to 1. */
  double draw(double uniform) {
    int k = trials();
    for (double left = uniform - chances[k]; left >= 0 && k > 0; left -= chances[k]) {
      k--;
    }
    return (double) k / trials();
  }

  private int trials() {
    return chances.length - 1;
  }

  private static double[] binomial(int trials, double share) {
    BinomialDistribution of = BinomialDistribution.of(trials, share);
    double[] chances = new double[trials + 1];
    Arrays.setAll(chances, of::probability);
    return chances;
  }

  private static void check(int trials, double share, double correlation) {
    if (trials < 1 || !(share >= 0 && share <= 1) || !(correlation >= 0 && correlation <= 1)) {
      throw new IllegalArgumentException(
          trials
              + " trials must be at least 1, share "
              + share
              + " and correlation "
              + correlation
              + " 0 to 1");
    }
  }
}
