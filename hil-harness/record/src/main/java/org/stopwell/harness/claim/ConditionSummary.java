package org.stopwell.harness.claim;

import java.util.Collections;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * The result of one condition: planned → run → spoiled by the rig, by reason → analysed. Every
 * trial is in exactly one group.
 *
 * @param condition what was planned
 * @param run how many of its trials were run
 * @param rigFaults trials that the bench spoiled, by cause code; they say nothing about the
 *     controller
 * @param safetyStops trials that the emergency stop or a safety limit ended
 * @param passed analysed trials in which the controller did what was expected
 * @param failed analysed trials in which it did not
 * @param undecided analysed trials that do not decide
 * @param stopErrors stop errors of the analysed trials that rested at the standoff or the depth
 *     limit, µm
 * @param within analysed trials that stopped within the tolerance band, out of all analysed; out of
 *     those that stopped where the plan expects a refusal as well as a stop
 * @param overTravel trials with over-travel, as {@link Condition#isOverTravel} says, out of the
 *     analysed ones at risk of it, as {@link Condition#isAtRisk} says
 * @param refused analysed trials in which the controller never claimed to be at the standoff, those
 *     that never started left out
 * @param overrun trials with overrun of a depth limit, as {@link Condition#isOverrun} says, out of
 *     the analysed ones at risk of it
 * @param neverStarted analysed trials in which the motor never turned and the controller did not
 *     say why
 */
public record ConditionSummary(
    Condition condition,
    int run,
    SortedMap<String, Integer> rigFaults,
    int safetyStops,
    int passed,
    int failed,
    int undecided,
    Moments stopErrors,
    Proportion within,
    Proportion overTravel,
    Proportion refused,
    Proportion overrun,
    int neverStarted) {

  /**
   * Sums up the trials of one condition.
   *
   * @param condition what was planned
   * @param trials its trials, in any order
   * @return the summary, the same for every order
   */
  public static ConditionSummary of(Condition condition, List<TrialResult> trials) {
    SortedMap<String, Integer> rigFaults = new TreeMap<>();
    trials.stream()
        .filter(t -> t.verdict() == Verdict.RIG_FAULT)
        .forEach(t -> rigFaults.merge(t.code(), 1, Integer::sum));
    List<TrialResult> analysed = trials.stream().filter(t -> isAnalysed(t.verdict())).toList();
    return new ConditionSummary(
        condition,
        trials.size(),
        Collections.unmodifiableSortedMap(rigFaults),
        count(trials, Verdict.SAFETY_STOP),
        count(trials, Verdict.PASS),
        count(trials, Verdict.FAIL),
        count(trials, Verdict.UNDECIDED),
        Moments.of(
            analysed.stream().filter(TrialResult::rested).mapToLong(TrialResult::stopErrorMicrons)),
        new Proportion(
            analysed.stream().filter(t -> isWithin(t, condition.toleranceMicrons())).count(),
            analysed.stream()
                .filter(t -> t.rested() || !condition.expectation().mayRefuse())
                .count()),
        new Proportion(
            analysed.stream().filter(condition::isOverTravel).count(),
            analysed.stream().filter(condition::isAtRisk).count()),
        new Proportion(
            analysed.stream().filter(t -> !t.rested() && !t.neverStarted()).count(),
            analysed.size()),
        new Proportion(
            analysed.stream().filter(condition::isOverrun).count(),
            analysed.stream().filter(condition::isAtRiskOfOverrun).count()),
        (int) analysed.stream().filter(TrialResult::neverStarted).count());
  }

  /**
   * Trials that count for the controller.
   *
   * @return passed, failed and undecided together
   */
  public int analysed() {
    return passed + failed + undecided;
  }

  /**
   * Planned trials that do not count for the controller: not run, spoiled or stopped for safety.
   *
   * @return how many, never negative
   */
  public int missing() {
    return Math.max(0, Math.max(condition.plannedTrials(), run) - analysed());
  }

  /**
   * Whether trials of this condition are expected to stop at the standoff.
   *
   * @return true when the plan expects a stop
   */
  public boolean expectsStop() {
    return condition.expectation().stops();
  }

  /**
   * Whether trials of this condition may stop at the standoff or be refused.
   *
   * @return true when the plan expects either, or shows the condition for comparison
   */
  public boolean mayRefuse() {
    return condition.expectation().mayRefuse();
  }

  /**
   * Whether trials of this condition are expected to be refused.
   *
   * @return true when the plan expects a refusal
   */
  public boolean expectsRefusal() {
    return condition.expectation() == Expectation.REFUSE;
  }

  /**
   * Whether a trial with this verdict counts for the controller.
   *
   * @param verdict of a trial
   * @return false for a rig fault and a safety stop
   */
  public static boolean isAnalysed(Verdict verdict) {
    return verdict != Verdict.RIG_FAULT && verdict != Verdict.SAFETY_STOP;
  }

  /**
   * Whether a trial came to rest within a band around the standoff or the depth limit.
   *
   * @param trial a trial
   * @param halfWidthMicrons half width of the band, µm
   * @return true on the edge of the band and inside
   */
  public static boolean isWithin(TrialResult trial, int halfWidthMicrons) {
    return trial.rested() && Math.abs((long) trial.stopErrorMicrons()) <= halfWidthMicrons;
  }

  private static int count(List<TrialResult> trials, Verdict verdict) {
    return (int) trials.stream().filter(t -> t.verdict() == verdict).count();
  }
}
