package org.stopwell.harness.claim;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.function.ToLongFunction;
import java.util.stream.Collectors;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * A run against a baseline, condition by condition. Trials with the same index and seed are pairs:
 * the same canal, the same hand, the same noise, so that what differs is the build. Runs with other
 * seeds are compared as independent. Trials of one canal are repeats: each canal counts as one
 * number.
 *
 * @param conditions the conditions that both runs have, in the order of the baseline
 * @param onlyBefore names of conditions that only the baseline has
 * @param onlyAfter names of conditions that only the run under test has
 * @param failures how the share of failed trials changed over all these conditions together
 * @param refusals the same for trials without a stop, over those where a stop is expected
 */
public record Comparison(
    List<ComparedCondition> conditions,
    List<String> onlyBefore,
    List<String> onlyAfter,
    ShareChange failures,
    ShareChange refusals) {

  /**
   * One of the two runs.
   *
   * @param conditions its conditions
   * @param trials its trials
   * @param repeats which of them share a canal
   */
  public record Run(List<Condition> conditions, List<TrialResult> trials, Repeats repeats) {
    /**
     * A run whose trials each have a canal of their own.
     *
     * @param conditions its conditions
     * @param trials its trials
     */
    public Run(List<Condition> conditions, List<TrialResult> trials) {
      this(conditions, trials, Repeats.NONE);
    }

    /** The canal of a trial; its own where trials share none. */
    private String canal(TrialResult trial) {
      return repeats.any() ? repeats.canal(trial) : Integer.toString(trial.index());
    }

    private List<TrialResult> of(Condition condition) {
      return trials.stream().filter(t -> t.condition().equals(condition.name())).toList();
    }

    private long canals() {
      return trials.stream().map(this::canal).distinct().count();
    }
  }

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
    // Where the runs share canals in different ways, the one with fewer of them decides.
    Function<TrialResult, String> canal =
        after.canals() <= before.canals() ? after::canal : before::canal;
    List<ComparedCondition> compared = new ArrayList<>();
    List<String> onlyBefore = new ArrayList<>();
    Part together = new Part(new ArrayList<>(), new ArrayList<>(), new ArrayList<>());
    boolean paired = true;
    for (Condition was : before.conditions()) {
      Condition is =
          after.conditions().stream()
              .filter(c -> c.name().equals(was.name()))
              .findFirst()
              .orElse(null);
      if (is == null) {
        onlyBefore.add(was.name());
        continue;
      }
      List<TrialResult> old = before.of(was);
      List<TrialResult> fresh = after.of(is);
      Part part = new Part(pairs(old, fresh, canal), analysed(old), analysed(fresh));
      compared.add(part.compare(was, is, before, after, marginMicrons));
      together.pairs().addAll(part.pairs());
      together.before().addAll(part.before());
      together.after().addAll(part.after());
      paired &= !part.pairs().isEmpty() || part.before().isEmpty() || part.after().isEmpty();
    }
    Set<String> known =
        before.conditions().stream().map(Condition::name).collect(Collectors.toSet());
    List<String> onlyAfter =
        after.conditions().stream().map(Condition::name).filter(n -> !known.contains(n)).toList();
    return new Comparison(
        compared,
        onlyBefore,
        onlyAfter,
        together.failures(paired, before, after),
        together.refusals(paired, before, after));
  }

  /**
   * One verdict over all conditions.
   *
   * @return {@code FAIL} when one failed, or when over all of them together more trials fail or do
   *     not stop than chance explains; {@code PASS} when all passed and none is missing; else
   *     {@code UNDECIDED}
   */
  public Verdict verdict() {
    if (conditions.stream().anyMatch(c -> c.verdict() == Verdict.FAIL) || isWorseTogether()) {
      return Verdict.FAIL;
    }
    boolean all =
        !conditions.isEmpty()
            && onlyBefore.isEmpty()
            && conditions.stream().allMatch(c -> c.verdict() == Verdict.PASS);
    return all ? Verdict.PASS : Verdict.UNDECIDED;
  }

  /**
   * Whether over all conditions together more trials fail, or do not stop, than chance explains.
   *
   * @return true at a level of 0.05
   */
  public boolean isWorseTogether() {
    return failures.isWorse(ComparedCondition.ALPHA) || refusals.isWorse(ComparedCondition.ALPHA);
  }

  /** The analysed trials of one condition, or of all of them. */
  private record Part(
      List<ShareChange.Pair> pairs, List<TrialResult> before, List<TrialResult> after) {

    ComparedCondition compare(Condition was, Condition is, Run from, Run to, int marginMicrons) {
      boolean paired = !pairs.isEmpty();
      List<ShareChange.Pair> stops =
          pairs.stream().filter(p -> p.before().stopped() && p.after().stopped()).toList();
      return new ComparedCondition(
          was.name(),
          ConditionSummary.of(was, from.of(was)),
          ConditionSummary.of(is, to.of(is)),
          paired,
          pairs.size(),
          pairs.stream().allMatch(p -> isSame(p.before(), p.after())),
          stops.stream().mapToLong(Part::difference).distinct().count() == 1,
          from.repeats().byTooth() && to.repeats().byTooth(),
          means(stops, ShareChange.Pair::canal, Part::difference),
          means(stopped(before), from::canal, TrialResult::stopErrorMicrons),
          means(stopped(after), to::canal, TrialResult::stopErrorMicrons),
          failures(paired, from, to),
          refusals(paired, from, to),
          marginMicrons);
    }

    ShareChange failures(boolean paired, Run from, Run to) {
      return change(paired, from, to, t -> t.verdict() == Verdict.FAIL);
    }

    /** Only where a stop is expected: elsewhere no trial is bad for want of a stop. */
    ShareChange refusals(boolean paired, Run from, Run to) {
      return change(paired, from, to, t -> t.expectation().stops() && !t.stopped());
    }

    private ShareChange change(boolean paired, Run from, Run to, Predicate<TrialResult> bad) {
      return paired
          ? ShareChange.ofPairs(pairs, bad)
          : ShareChange.of(before, from::canal, after, to::canal, bad);
    }

    private static long difference(ShareChange.Pair pair) {
      return (long) pair.after().stopErrorMicrons() - pair.before().stopErrorMicrons();
    }

    private static List<TrialResult> stopped(List<TrialResult> trials) {
      return trials.stream().filter(TrialResult::stopped).toList();
    }

    private static <T> CanalMeans means(
        List<T> all, Function<T, String> canal, ToLongFunction<T> microns) {
      Map<String, Moments> byCanal = new TreeMap<>();
      all.forEach(
          t -> byCanal.merge(canal.apply(t), Moments.of(microns.applyAsLong(t), 1), Moments::plus));
      return CanalMeans.of(byCanal.values());
    }
  }

  private static List<TrialResult> analysed(List<TrialResult> trials) {
    return trials.stream().filter(t -> ConditionSummary.isAnalysed(t.verdict())).toList();
  }

  private static List<ShareChange.Pair> pairs(
      List<TrialResult> old, List<TrialResult> fresh, Function<TrialResult, String> canal) {
    if (!old.isEmpty() && old.stream().allMatch(t -> t.isOfDevice() && t.seed() == 0)) {
      return sameTeeth(analysed(old), analysed(fresh));
    }
    Map<Integer, TrialResult> byIndex = new HashMap<>();
    old.forEach(t -> byIndex.put(t.index(), t));
    boolean alike =
        fresh.stream().allMatch(t -> byIndex.getOrDefault(t.index(), t).seed() == t.seed());
    return alike
        ? analysed(fresh).stream()
            .filter(t -> byIndex.containsKey(t.index()))
            .filter(t -> ConditionSummary.isAnalysed(byIndex.getOrDefault(t.index(), t).verdict()))
            .map(t -> new ShareChange.Pair(byIndex.getOrDefault(t.index(), t), t, canal.apply(t)))
            .toList()
        : List.of();
  }

  /** Imported trials have no seed: those on the same tooth are pairs, in their order. */
  private static List<ShareChange.Pair> sameTeeth(List<TrialResult> old, List<TrialResult> fresh) {
    Map<String, Deque<TrialResult>> before = new HashMap<>();
    old.forEach(t -> before.computeIfAbsent(t.device().tooth(), k -> new ArrayDeque<>()).add(t));
    List<ShareChange.Pair> pairs = new ArrayList<>();
    for (TrialResult t : fresh) {
      TrialResult was = before.getOrDefault(t.device().tooth(), new ArrayDeque<>()).poll();
      if (was != null) {
        pairs.add(new ShareChange.Pair(was, t, t.device().tooth()));
      }
    }
    return pairs;
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
}
