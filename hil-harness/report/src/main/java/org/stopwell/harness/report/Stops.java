package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.ToLongFunction;
import java.util.stream.LongStream;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.stats.MixedModel;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.TrialResult;

/** The analysed stops of conditions that expect one, and how the plan groups them. */
final class Stops {
  private final StatisticsChoice choice;
  private final List<TrialResult> all;
  private final Moments errors;

  Stops(StatisticsChoice choice, List<TrialResult> trials) {
    this.choice = choice;
    this.all =
        trials.stream()
            .filter(t -> t.stopped() && ConditionSummary.isAnalysed(t.verdict()))
            .filter(t -> t.expectation().stops())
            .toList();
    this.errors = moments(all, TrialResult::stopErrorMicrons);
  }

  List<TrialResult> all() {
    return all;
  }

  Moments errors() {
    return errors;
  }

  /** Why the stops as a whole carry no spread. */
  String tooFew() {
    return errors.count() < 2
        ? "Fewer than two stops."
        : "All stops are equal: the resolution of the bench, not a spread.";
  }

  /** How much of the spread lies between the levels of each group. */
  Optional<MixedModel> fit() {
    return MixedModel.fit(numbers(), factors(), cells());
  }

  /** What stands behind each deviation, the residual last; nothing where it would take too long. */
  List<String> intervals() {
    return MixedModel.intervals(numbers(), factors(), cells(), choice.confidence())
        .map(
            all ->
                all.stream()
                    .map(
                        i ->
                            ", "
                                + Numbers.plainPercent(choice.confidence())
                                + " interval "
                                + Words.plain(Optional.of(i)))
                    .toList())
        .orElse(Collections.nCopies(choice.groups().size() + 1, ""));
  }

  private double[] numbers() {
    return all.stream().mapToDouble(TrialResult::stopErrorMicrons).toArray();
  }

  private List<int[]> factors() {
    List<int[]> factors = new ArrayList<>();
    for (String group : choice.groups()) {
      factors.add(places(t -> choice.level(t.condition(), group)));
    }
    return factors;
  }

  private int[] cells() {
    return places(t -> choice.fixed(t.condition()));
  }

  private int[] places(Function<TrialResult, String> word) {
    Map<String, Integer> place = new LinkedHashMap<>();
    return all.stream()
        .mapToInt(t -> place.computeIfAbsent(word.apply(t), w -> place.size()))
        .toArray();
  }

  /** The stop errors of each group. */
  List<Moments> moments(Function<TrialResult, String> group) {
    return grouped(all, group).stream()
        .map(g -> moments(g, t -> (long) t.stopErrorMicrons()))
        .toList();
  }

  static List<List<TrialResult>> grouped(
      List<TrialResult> trials, Function<TrialResult, String> group) {
    Map<String, List<TrialResult>> groups = new LinkedHashMap<>();
    trials.forEach(t -> groups.computeIfAbsent(group.apply(t), g -> new ArrayList<>()).add(t));
    return List.copyOf(groups.values());
  }

  static Moments moments(List<TrialResult> trials, ToLongFunction<TrialResult> of) {
    return Moments.of(LongStream.of(trials.stream().mapToLong(of).toArray()));
  }
}
