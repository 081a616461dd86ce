package org.stopwell.harness.claim;

import java.util.Optional;
import java.util.OptionalDouble;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.trial.Verdict;

/**
 * One condition in two runs. Each canal counts as one number.
 *
 * @param name its name
 * @param before its summary in the baseline
 * @param after its summary in the run under test
 * @param paired whether the same trials (by index and seed) were compared
 * @param pairs trials analysed in both; 0 when not paired
 * @param same whether every pair is one and the same trial, step by step
 * @param equal whether every pair that stopped in both differs by the same
 * @param byTooth whether trials on one tooth are repeats, in place of those in one canal
 * @param differences pairs: stop error after minus before, µm, of those that stopped in both
 * @param was other trials: stop errors of the baseline, µm
 * @param is other trials: stop errors of the run under test, µm
 * @param failures how the share of failed trials changed
 * @param refusals how the share of trials without a stop changed, where a stop is expected
 * @param marginMicrons how far the mean may move, µm
 */
public record ComparedCondition(
    String name,
    ConditionSummary before,
    ConditionSummary after,
    boolean paired,
    int pairs,
    boolean same,
    boolean equal,
    boolean byTooth,
    CanalMeans differences,
    CanalMeans was,
    CanalMeans is,
    ShareChange failures,
    ShareChange refusals,
    int marginMicrons) {
  /** Level of each one-sided test. */
  static final double ALPHA = 0.05;

  /**
   * How far the mean stop error moved.
   *
   * @return after minus before, µm, empty when one of them has no stops
   */
  public OptionalDouble shift() {
    if (paired) {
      return differences.mean();
    }
    return was.count() == 0 || is.count() == 0
        ? OptionalDouble.empty()
        : OptionalDouble.of(is.mean().orElseThrow() - was.mean().orElseThrow());
  }

  /**
   * The interval of the shift that decides: 90 %, so that both one-sided tests have level 0.05.
   *
   * @return µm; a single point when every pair differs by the same; empty when not estimable
   */
  public Optional<Interval> shiftInterval() {
    if (paired) {
      return isConstant()
          ? differences.mean().stream().mapToObj(m -> new Interval(m, m)).findFirst()
          : differences.interval(1 - 2 * ALPHA);
    }
    return is.less(was, ALPHA);
  }

  /**
   * Whether every pair differs by the same, so that there is nothing to estimate.
   *
   * @return true for equal differences in at least two canals
   */
  public boolean isConstant() {
    return paired && equal && differences.count() >= 2;
  }

  /**
   * How many canals the shift is computed from.
   *
   * @return canals of the pairs; the smaller number where the trials are no pairs
   */
  public int canals() {
    return paired ? differences.count() : Math.min(was.count(), is.count());
  }

  /**
   * Spread after over spread before.
   *
   * @return the ratio of standard deviations, empty when one is not estimable or 0
   */
  public OptionalDouble spreadRatio() {
    double old = before.stopErrors().standardDeviation().orElse(0);
    double fresh = after.stopErrors().standardDeviation().orElse(0);
    return old > 0 && fresh > 0 ? OptionalDouble.of(fresh / old) : OptionalDouble.empty();
  }

  /**
   * Pairs that did not fail before and fail now.
   *
   * @return how many; failed trials after where they are no pairs
   */
  public int newlyFailed() {
    return failures.worse();
  }

  /**
   * Pairs that failed before and do not fail now.
   *
   * @return how many; failed trials before where they are no pairs
   */
  public int newlyPassed() {
    return failures.better();
  }

  /**
   * Pairs that stopped before and do not stop now, such as those newly refused.
   *
   * @return how many; trials without a stop after where they are no pairs
   */
  public int newlyWithoutStop() {
    return refusals.worse();
  }

  /**
   * Pairs that did not stop before and stop now.
   *
   * @return how many; trials without a stop before where they are no pairs
   */
  public int newlyStopped() {
    return refusals.better();
  }

  /**
   * The verdict on this condition.
   *
   * @return {@code PASS} when every pair is one and the same trial; {@code FAIL} when the shift
   *     lies outside of the margin, or more trials fail or do not stop than chance explains; {@code
   *     PASS} when the shift is shown to lie within it and nothing got worse; {@code UNDECIDED}
   *     otherwise. Where no trial stopped in either run, failures alone are compared
   */
  public Verdict verdict() {
    if (paired && same) {
      return Verdict.PASS;
    }
    Interval margin = new Interval(-marginMicrons, marginMicrons);
    Optional<Interval> shift = shiftInterval();
    if (failures.isWorse(ALPHA)
        || refusals.isWorse(ALPHA)
        || shift.filter(margin::isApartFrom).isPresent()) {
      return Verdict.FAIL;
    }
    boolean stops = before.stopErrors().count() + after.stopErrors().count() > 0;
    boolean shown =
        (before.expectsStop() && stops) ? shift.filter(margin::contains).isPresent() : paired;
    boolean compared = before.analysed() > 0 && after.analysed() > 0;
    boolean nothingPlanned = before.missing() + before.run() + after.missing() + after.run() == 0;
    return nothingPlanned || (shown && compared && failures.isNoWorse() && refusals.isNoWorse())
        ? Verdict.PASS
        : Verdict.UNDECIDED;
  }
}
