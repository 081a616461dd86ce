package org.stopwell.harness.stats;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalInt;
import java.util.function.DoubleUnaryOperator;
import java.util.function.IntToDoubleFunction;
import org.apache.commons.statistics.distribution.BinomialDistribution;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.commons.statistics.distribution.TDistribution;

/** How many trials a claim needs, and how likely a true claim is to be shown. */
public final class SampleSize {
  /** Largest number of trials that can be planned. */
  private static final int MOST = 1_000_000;

  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

  private SampleSize() {}

  /**
   * Fewest trials that show "at least this share" with so many misses.
   *
   * @param share claimed share, 0 to 1 exclusive
   * @param confidence one-sided confidence
   * @param misses how many misses shall be allowed
   * @return number of trials, empty beyond a million
   */
  public static OptionalInt trialsForShare(double share, double confidence, int misses) {
    // With more trials at the same misses the bound only rises.
    return least(
        n -> new Proportion(n - misses, n).lowerBound(confidence).orElse(0), share, misses + 1);
  }

  /**
   * How likely a campaign shows "at least this share".
   *
   * @param trials number of trials
   * @param share claimed share, 0 to 1 exclusive
   * @param confidence one-sided confidence
   * @param trueShare the true share
   * @return chance that the bound meets the claim
   */
  public static double powerOfShare(int trials, double share, double confidence, double trueShare) {
    // The bound of Clopper and Pearson meets the share where so few misses are this unlikely at it.
    BinomialDistribution misses = BinomialDistribution.of(trials, 1 - share);
    int low = -1;
    int high = trials + 1;
    while (high - low > 1) {
      int middle = (low + high) >>> 1;
      if (misses.cumulativeProbability(middle) <= 1 - confidence) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return low < 0 ? 0 : BinomialDistribution.of(trials, 1 - trueShare).cumulativeProbability(low);
  }

  /**
   * How likely a campaign with looks shows "at least this share", trial by trial and exactly.
   *
   * @param trials number of trials
   * @param share claimed share, 0 to 1 exclusive
   * @param confidences one-sided confidence of each look, after equal steps, the last at the end
   * @param trueShare the true share
   * @return chance that the bound meets the claim at a look before it contradicts it at one
   */
  public static double powerOfShare(
      int trials, double share, List<Double> confidences, double trueShare) {
    double[] live = {1};
    double shown = 0;
    int n = 0;
    for (int look = 1; look <= confidences.size(); look++) {
      int end = (int) (((long) trials * look + confidences.size() - 1) / confidences.size());
      for (; n < end; n++) {
        double[] next = new double[live.length + 1];
        for (int x = 0; x < live.length; x++) {
          next[x] += live[x] * trueShare;
          next[x + 1] += live[x] * (1 - trueShare);
        }
        // Chances too small to matter are not carried on.
        int most = next.length;
        while (most > 1 && next[most - 1] < 1e-18) {
          most--;
        }
        live = Arrays.copyOf(next, most);
      }
      double tail = 1 - confidences.get(look - 1);
      BinomialDistribution misses = BinomialDistribution.of(n, 1 - share);
      for (int x = 0; x < live.length && misses.cumulativeProbability(x) <= tail; x++) {
        shown += live[x];
        live[x] = 0;
      }
      for (int x = live.length - 1; x > 0 && misses.survivalProbability(x - 1) < tail; x--) {
        live[x] = 0;
      }
    }
    return shown;
  }

  /**
   * Fewest trials that show "at least this share" often enough. The chance rises and falls in a
   * saw-tooth: from this number on, every number of trials reaches it.
   *
   * @param share claimed share, 0 to 1 exclusive
   * @param confidences one-sided confidence of each look, the last at the end
   * @param trueShare the true share, above the claimed one
   * @param power wanted chance
   * @return number of trials; empty beyond ten thousand
   */
  public static OptionalInt trialsForShare(
      double share, List<Double> confidences, double trueShare, double power) {
    OptionalInt atTheEnd =
        trialsForShare(share, confidences.get(confidences.size() - 1), trueShare, power);
    if (confidences.size() == 1 || atTheEnd.isEmpty()) {
      return atTheEnd;
    }
    // Looks before the end can only show more.
    int n = atTheEnd.getAsInt();
    while (n > 1 && powerOfShare(n - 1, share, confidences, trueShare) >= power) {
      n--;
    }
    return OptionalInt.of(n);
  }

  private static OptionalInt trialsForShare(
      double share, double confidence, double trueShare, double power) {
    if (!(trueShare > share)) {
      return OptionalInt.empty();
    }
    // One tooth is as long as it takes for one more miss to be allowed, less than this.
    int tooth = (int) Math.ceil(2 / (1 - share));
    int since = 0;
    for (int n = trialsForShare(share, confidence, 0).orElse(MOST); n <= 10_000 + tooth; n++) {
      if (powerOfShare(n, share, confidence, trueShare) < power) {
        since = 0;
      } else if (since == 0) {
        since = n;
      } else if (n - since >= tooth) {
        return OptionalInt.of(since);
      }
    }
    return OptionalInt.empty();
  }

  /**
   * How likely a campaign shows that the mean lies within a margin (two one-sided tests), exactly.
   *
   * @param trials number of trials, at least 2
   * @param margin the margin, above 0
   * @param deviation true standard deviation, in the same unit
   * @param bias true mean, in the same unit
   * @param confidence one-sided confidence
   * @return chance that both tests reject
   */
  public static double powerOfBias(
      int trials, double margin, double deviation, double bias, double confidence) {
    double root = Math.sqrt((double) trials);
    double t = TDistribution.of(trials - 1.0).inverseCumulativeProbability(confidence);
    return overDeviations(
        trials, s -> within(margin - t * s * deviation / root, bias, deviation / root));
  }

  /**
   * Fewest trials that show often enough that the mean lies within a margin.
   *
   * @param margin the margin, above 0
   * @param deviation true standard deviation, in the same unit
   * @param bias true mean, in the same unit
   * @param confidence one-sided confidence
   * @param power wanted chance
   * @param lost share of trials that the rig spoils, 0 to below 1: each counts as far off as the
   *     worst stop, taken here at 3.5 standard deviations or at the margin, all to one side
   * @return number of trials, empty beyond a million
   */
  public static OptionalInt trialsForBias(
      double margin, double deviation, double bias, double confidence, double power, double lost) {
    double worst = Math.max(margin, Math.abs(bias) + 3.5 * deviation);
    double off = Math.abs(bias) * (1 - lost) + lost * worst;
    double spread = Math.hypot(deviation, Math.sqrt(lost) * worst);
    return least(n -> powerOfBias(n, margin, spread, off, confidence), power, 2);
  }

  /**
   * How likely a campaign's tolerance interval lies within a band around the standoff, exactly.
   *
   * @param trials number of trials, at least 2
   * @param share share of stops that the interval shall hold
   * @param confidence its confidence
   * @param band half width of the band
   * @param deviation true standard deviation, in the same unit
   * @param bias true mean, in the same unit
   * @return chance that mean ± k s lies within the band
   */
  public static double powerOfTolerance(
      int trials, double share, double confidence, double band, double deviation, double bias) {
    double k = ToleranceInterval.twoSidedFactor(trials, share, confidence);
    double error = deviation / Math.sqrt((double) trials);
    return overDeviations(trials, s -> within(band - k * s * deviation, bias, error));
  }

  /**
   * Fewest trials whose tolerance interval lies often enough within a band around the standoff.
   *
   * @param share share of stops that the interval shall hold
   * @param confidence its confidence
   * @param band half width of the band
   * @param deviation true standard deviation, in the same unit
   * @param bias true mean, in the same unit
   * @param power wanted chance
   * @return number of trials; empty beyond ten thousand
   */
  public static OptionalInt trialsForTolerance(
      double share, double confidence, double band, double deviation, double bias, double power) {
    return least(
        n -> powerOfTolerance(n, share, confidence, band, deviation, bias), power, 2, 10_000);
  }

  /**
   * Fewest pairs whose limits of agreement are known well enough: t √(3/n) s at most a half width
   * (Bland and Altman 1986).
   *
   * @param halfWidth wanted half width of the interval of a limit, above 0
   * @param deviation true standard deviation of one difference, in the same unit
   * @param confidence two-sided confidence of the interval
   * @return number of pairs, empty beyond a million
   */
  public static OptionalInt pairsForLimits(double halfWidth, double deviation, double confidence) {
    return least(
        n ->
            -TDistribution.of(n - 1.0).inverseSurvivalProbability((1 - confidence) / 2)
                * deviation
                * Math.sqrt(3.0 / n),
        -halfWidth,
        2,
        MOST);
  }

  /**
   * How many times the trials of a fixed plan a group-sequential one may need at most, for the same
   * power (Jennison and Turnbull 2000, section 2.4).
   *
   * @param design the limits
   * @param power wanted chance of crossing one of them
   * @return most trials over those of a fixed plan, at least 1
   */
  public static double inflation(GroupSequential design, double power) {
    double drift = Bisection.solve(design::crossing, power, 0, 20);
    double fixed =
        NORMAL.inverseSurvivalProbability(design.alpha() / 2)
            + NORMAL.inverseCumulativeProbability(power);
    return drift * drift * design.looks() / (fixed * fixed);
  }

  /**
   * How likely two equal arms show a difference of their means (two-sided t test).
   *
   * @param perArm trials in each arm, at least 2
   * @param difference true difference of the means
   * @param deviation true standard deviation in both arms, in the same unit
   * @param alpha two-sided level
   * @return chance that the test rejects
   */
  public static double powerOfShift(int perArm, double difference, double deviation, double alpha) {
    double freedom = 2.0 * perArm - 2;
    double t = TDistribution.of(freedom).inverseSurvivalProbability(alpha / 2);
    double delta = difference / deviation * Math.sqrt(perArm / 2.0);
    return 1
        - NoncentralT.cumulative(t, freedom, delta)
        + NoncentralT.cumulative(-t, freedom, delta);
  }

  /**
   * Fewest trials in each of two arms that show a difference often enough.
   *
   * @param difference true difference of the means
   * @param deviation true standard deviation in both arms, in the same unit
   * @param alpha two-sided level
   * @param power wanted chance
   * @return trials per arm, empty beyond a million
   */
  public static OptionalInt trialsForShift(
      double difference, double deviation, double alpha, double power) {
    return least(n -> powerOfShift(n, difference, deviation, alpha), power, 2);
  }

  /**
   * Standard deviation of the mean of one canal: Student's interval of such means decides a claim
   * on the mean, so each canal is one number of this spread.
   *
   * @param deviation standard deviation of one trial
   * @param perCanal trials in each canal, at least 1
   * @param correlation intraclass correlation of the trials in one canal, 0 to 1
   * @return in the same unit
   */
  public static double deviationOfCanal(double deviation, int perCanal, double correlation) {
    return deviation * Math.sqrt(correlation + (1 - correlation) / perCanal);
  }

  /** Chance that a normal mean lies within ± reach; none when the reach is gone. */
  private static double within(double reach, double mean, double error) {
    return reach <= 0
        ? 0
        : NORMAL.cumulativeProbability((reach - mean) / error)
            - NORMAL.cumulativeProbability((-reach - mean) / error);
  }

  /** The mean of a function of s/σ, whose square times (n − 1) is chi-square. */
  private static double overDeviations(int trials, DoubleUnaryOperator f) {
    double freedom = trials - 1.0;
    ChiSquaredDistribution chi = ChiSquaredDistribution.of(freedom);
    double low = Math.sqrt(chi.inverseCumulativeProbability(1e-13) / freedom);
    double high = Math.sqrt(chi.inverseSurvivalProbability(1e-13) / freedom);
    return Quadrature.simpson(
        s -> f.applyAsDouble(s) * chi.density(s * s * freedom) * 2 * s * freedom, low, high, 2000);
  }

  /** The least number at which a rising function reaches a value. */
  private static OptionalInt least(IntToDoubleFunction rising, double value, int from) {
    return least(rising, value, from, MOST);
  }

  private static OptionalInt least(IntToDoubleFunction rising, double value, int from, int most) {
    if (!(rising.applyAsDouble(most) >= value)) {
      return OptionalInt.empty();
    }
    int high = from;
    while (rising.applyAsDouble(high) < value) {
      high = Math.min(most, 2 * high);
    }
    int low = Math.max(from - 1, high / 2);
    while (high - low > 1) {
      int middle = (low + high) >>> 1;
      if (rising.applyAsDouble(middle) >= value) {
        high = middle;
      } else {
        low = middle;
      }
    }
    return OptionalInt.of(high);
  }
}
