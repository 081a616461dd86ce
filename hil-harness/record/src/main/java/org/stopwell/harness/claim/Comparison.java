package org.stopwell.harness.claim;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.LongStream;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * A run against a baseline, condition by condition. Trials with the same index and seed are pairs:
 * the same canal, the same hand, the same noise, so that what differs is the build. Runs with other
 * seeds are compared as independent.
 *
 * @param conditions the conditions that both runs have, in the order of the baseline
 * @param onlyBefore names of conditions that only the baseline has
 * @param onlyAfter names of conditions that only the run under test has
 */
public record Comparison(
    List<ComparedCondition> conditions, List<String> onlyBefore, List<String> onlyAfter) {

  /**
   * One of the two runs.
   *
   * @param conditions its conditions
   * @param trials its trials
   */
  public record Run(List<Condition> conditions, List<TrialResult> trials) {}

  /**
   * Compares two runs.
   *
   * @param before the baseline
   * @param after the run under test
   * @param marginMicrons how far the mean stop error of a condition may move, above 0, µm
   * @return the comparison
   */
  public static Comparison of(Run before, Run after, int marginMicrons) {
    if (marginMicrons <= 0) {
      throw new IllegalArgumentException("margin " + marginMicrons + " µm, must be above 0 µm");
    }
    List<ComparedCondition> compared = new ArrayList<>();
    List<String> onlyBefore = new ArrayList<>();
    for (Condition was : before.conditions()) {
      after.conditions().stream()
          .filter(is -> is.name().equals(was.name()))
          .findFirst()
          .ifPresentOrElse(
              is -> compared.add(compare(was, is, before, after, marginMicrons)),
              () -> onlyBefore.add(was.name()));
    }
    List<String> known = before.conditions().stream().map(Condition::name).toList();
    List<String> onlyAfter =
        after.conditions().stream().map(Condition::name).filter(n -> !known.contains(n)).toList();
    return new Comparison(compared, onlyBefore, onlyAfter);
  }

  /**
   * One verdict over all conditions.
   *
   * @return {@code FAIL} when one failed; {@code PASS} when all passed and none is missing; else
   *     {@code UNDECIDED}
   */
  public Verdict verdict() {
    if (conditions.stream().anyMatch(c -> c.verdict() == Verdict.FAIL)) {
      return Verdict.FAIL;
    }
    boolean all =
        !conditions.isEmpty()
            && onlyBefore.isEmpty()
            && conditions.stream().allMatch(c -> c.verdict() == Verdict.PASS);
    return all ? Verdict.PASS : Verdict.UNDECIDED;
  }

  private static ComparedCondition compare(
      Condition was, Condition is, Run before, Run after, int marginMicrons) {
    List<TrialResult> old = own(before, was);
    List<TrialResult> fresh = own(after, is);
    Map<Integer, TrialResult> byIndex = new HashMap<>();
    old.forEach(t -> byIndex.put(t.index(), t));
    boolean paired =
        fresh.stream().allMatch(t -> byIndex.getOrDefault(t.index(), t).seed() == t.seed());
    List<TrialResult[]> pairs = new ArrayList<>();
    for (TrialResult t : fresh) {
      TrialResult partner = byIndex.get(t.index());
      if (paired
          && partner != null
          && ConditionSummary.isAnalysed(t.verdict())
          && ConditionSummary.isAnalysed(partner.verdict())) {
        pairs.add(new TrialResult[] {partner, t});
      }
    }
    return new ComparedCondition(
        was.name(),
        ConditionSummary.of(was, old),
        ConditionSummary.of(is, fresh),
        !pairs.isEmpty(),
        pairs.size(),
        pairs.stream().allMatch(p -> isSame(p[0], p[1])),
        Moments.of(
            pairs.stream()
                .filter(p -> p[0].stopped() && p[1].stopped())
                .flatMapToLong(
                    p -> LongStream.of((long) p[1].stopErrorMicrons() - p[0].stopErrorMicrons()))),
        turned(pairs, Verdict.PASS, Verdict.FAIL),
        turned(pairs, Verdict.FAIL, Verdict.PASS),
        marginMicrons);
  }

  private static List<TrialResult> own(Run run, Condition condition) {
    return run.trials().stream().filter(t -> t.condition().equals(condition.name())).toList();
  }

  /** The state hash after the last step stands for every step before it. */
  private static boolean isSame(TrialResult a, TrialResult b) {
    return a.steps() == b.steps()
        && a.stateHash() == b.stateHash()
        && a.verdict() == b.verdict()
        && a.code().equals(b.code())
        && a.stopped() == b.stopped()
        && a.remainingMicrons() == b.remainingMicrons()
        && a.deepestMicrons() == b.deepestMicrons();
  }

  private static int turned(List<TrialResult[]> pairs, Verdict from, Verdict to) {
    return (int) pairs.stream().filter(p -> p[0].verdict() == from && p[1].verdict() == to).count();
  }
}
