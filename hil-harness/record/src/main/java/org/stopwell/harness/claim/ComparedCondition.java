package org.stopwell.harness.claim;

import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.statistics.distribution.BinomialDistribution;
import org.stopwell.harness.stats.Equivalence;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.trial.Verdict;

/**
 * One condition in two runs.
 *
 * @param name its name
 * @param before its summary in the baseline
 * @param after its summary in the run under test
 * @param paired whether the same trials (by index and seed) were compared
 * @param pairs trials analysed in both; 0 when not paired
 * @param same whether every pair is one and the same trial, step by step
 * @param differences stop error after minus before, µm, of the pairs that stopped in both
 * @param newlyFailed pairs that passed before and fail now
 * @param newlyPassed pairs that failed before and pass now
 * @param marginMicrons how far the mean may move, µm
 */
public record ComparedCondition(
    String name,
    ConditionSummary before,
    ConditionSummary after,
    boolean paired,
    int pairs,
    boolean same,
    Moments differences,
    int newlyFailed,
    int newlyPassed,
    int marginMicrons) {
  private static final double ALPHA = 0.05;

  /**
   * How far the mean stop error moved.
   *
   * @return after minus before, µm, empty when one of them has no stops
   */
  public OptionalDouble shift() {
    if (paired) {
      return differences.mean();
    }
    OptionalDouble was = before.stopErrors().mean();
    OptionalDouble is = after.stopErrors().mean();
    return was.isEmpty() || is.isEmpty()
        ? OptionalDouble.empty()
        : OptionalDouble.of(is.getAsDouble() - was.getAsDouble());
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
          : differences.meanInterval(1 - 2 * ALPHA);
    }
    double s1 = after.stopErrors().standardDeviation().orElse(0);
    double s2 = before.stopErrors().standardDeviation().orElse(0);
    if (!(s1 > 0 && s2 > 0)) {
      return Optional.empty();
    }
    return Optional.of(
        Equivalence.welch(
                after.stopErrors().mean().orElseThrow(),
                s1,
                after.stopErrors().count(),
                before.stopErrors().mean().orElseThrow(),
                s2,
                before.stopErrors().count(),
                marginMicrons)
            .interval(ALPHA));
  }

  /**
   * Whether every pair differs by the same, so that there is nothing to estimate.
   *
   * @return true for at least two equal differences
   */
  public boolean isConstant() {
    return paired && differences.count() >= 2 && differences.standardDeviation().orElse(1) == 0;
  }

  /**
   * Spread after over spread before.
   *
   * @return the ratio of standard deviations, empty when one is not estimable or 0
   */
  public OptionalDouble spreadRatio() {
    double was = before.stopErrors().standardDeviation().orElse(0);
    double is = after.stopErrors().standardDeviation().orElse(0);
    return was > 0 && is > 0 ? OptionalDouble.of(is / was) : OptionalDouble.empty();
  }

  /**
   * The probability of at least as many changes for the worse if both builds are equally good
   * (exact one-sided test of McNemar).
   *
   * @return p value, 1 when no verdict changed
   */
  public double worseP() {
    int changed = newlyFailed + newlyPassed;
    return newlyFailed == 0
        ? 1
        : BinomialDistribution.of(changed, 0.5).survivalProbability(newlyFailed - 1);
  }

  /**
   * The verdict on this condition.
   *
   * @return {@code PASS} when every pair is one and the same trial; {@code FAIL} when the shift
   *     lies outside of the margin or verdicts turned bad more often than chance; {@code PASS} when
   *     the shift is shown to lie within it and no verdict turned bad; {@code UNDECIDED} otherwise.
   *     Where no pair stopped in either run, the verdicts alone are compared
   */
  public Verdict verdict() {
    if (paired && same) {
      return Verdict.PASS;
    }
    Interval margin = new Interval(-marginMicrons, marginMicrons);
    Optional<Interval> shift = shiftInterval();
    if (worseP() < ALPHA || shift.filter(margin::isApartFrom).isPresent()) {
      return Verdict.FAIL;
    }
    boolean stops = before.stopErrors().count() + after.stopErrors().count() > 0;
    boolean shown =
        (before.expectsStop() && stops) ? shift.filter(margin::contains).isPresent() : paired;
    boolean compared = before.analysed() > 0 && after.analysed() > 0;
    boolean nothingPlanned = before.missing() + before.run() + after.missing() + after.run() == 0;
    return nothingPlanned || (shown && compared && newlyFailed == 0)
        ? Verdict.PASS
        : Verdict.UNDECIDED;
  }
}
