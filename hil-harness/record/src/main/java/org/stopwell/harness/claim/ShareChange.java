package org.stopwell.harness.claim;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.Predicate;
import org.stopwell.harness.stats.BoundedMean;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.TrialResult;

/**
 * How the share of bad trials changed between two runs. Each canal counts as one number.
 *
 * <p>Pairs: the share of a canal after minus before lies from −1 to 1, and its mean above 0 is
 * shown by the bound on the mean of such numbers. Where each pair has a canal of its own that is
 * the exact test of McNemar. Other trials: the lower bound after lies above the upper bound before,
 * each at half the level.
 *
 * @param paired whether the trials of both runs are pairs
 * @param before share of bad trials of each canal in the baseline
 * @param after the same in the run under test; of the same canals where they are pairs
 * @param worse pairs that got worse; bad trials after where they are no pairs
 * @param better pairs that got better; bad trials before where they are no pairs
 */
public record ShareChange(
    boolean paired, List<Double> before, List<Double> after, int worse, int better) {
  /** Takes copies. */
  public ShareChange {
    before = List.copyOf(before);
    after = List.copyOf(after);
  }

  /** One trial in two runs. */
  record Pair(TrialResult before, TrialResult after, String canal) {}

  /** The change over pairs. */
  static ShareChange ofPairs(List<Pair> pairs, Predicate<TrialResult> bad) {
    return new ShareChange(
        true,
        shares(pairs, Pair::canal, p -> bad.test(p.before())),
        shares(pairs, Pair::canal, p -> bad.test(p.after())),
        (int) pairs.stream().filter(p -> !bad.test(p.before()) && bad.test(p.after())).count(),
        (int) pairs.stream().filter(p -> bad.test(p.before()) && !bad.test(p.after())).count());
  }

  /** The change between trials that have nothing in common. */
  static ShareChange of(
      List<TrialResult> before,
      Function<TrialResult, String> canalBefore,
      List<TrialResult> after,
      Function<TrialResult, String> canalAfter,
      Predicate<TrialResult> bad) {
    return new ShareChange(
        false,
        shares(before, canalBefore, bad),
        shares(after, canalAfter, bad),
        (int) after.stream().filter(bad).count(),
        (int) before.stream().filter(bad).count());
  }

  private static <T> List<Double> shares(
      Collection<T> trials, Function<T, String> canal, Predicate<T> bad) {
    Map<String, Proportion> byCanal = new TreeMap<>();
    for (T t : trials) {
      byCanal.merge(
          canal.apply(t),
          new Proportion(bad.test(t) ? 1 : 0, 1),
          (a, b) -> new Proportion(a.count() + b.count(), a.trials() + b.trials()));
    }
    return byCanal.values().stream().map(p -> p.estimate().orElseThrow()).toList();
  }

  /**
   * Whether the share is shown to have risen.
   *
   * @param alpha level of the test
   * @return false also where one run has no trial
   */
  public boolean isWorse(double alpha) {
    if (before.isEmpty() || after.isEmpty()) {
      return false;
    }
    if (paired) {
      double[] rise = new double[after.size()];
      for (int i = 0; i < rise.length; i++) {
        rise[i] = (after.get(i) - before.get(i) + 1) / 2;
      }
      return BoundedMean.isAtLeast(rise, 1 - alpha, 0.5);
    }
    double confidence = 1 - alpha / 2;
    return lower(after, confidence) > upper(before, confidence);
  }

  /** The bound of a count is much faster where each canal has one trial. */
  private static double lower(List<Double> shares, double confidence) {
    return shares.stream().allMatch(s -> s == 0 || s == 1)
        ? new Proportion(shares.stream().filter(s -> s == 1).count(), shares.size())
            .lowerBound(confidence)
            .orElseThrow()
        : BoundedMean.lower(array(shares), confidence);
  }

  private static double upper(List<Double> shares, double confidence) {
    return 1 - lower(shares.stream().map(s -> 1 - s).toList(), confidence);
  }

  /** Whether nothing got worse: no pair, or no greater share where they are no pairs. */
  boolean isNoWorse() {
    return paired ? worse == 0 : mean(after) <= mean(before);
  }

  private static double mean(List<Double> shares) {
    return shares.stream().mapToDouble(s -> s).average().orElse(0);
  }

  private static double[] array(List<Double> shares) {
    return shares.stream().mapToDouble(s -> s).toArray();
  }
}
