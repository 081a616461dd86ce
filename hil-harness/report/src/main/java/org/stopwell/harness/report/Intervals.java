package org.stopwell.harness.report;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.stats.BoundedMean;
import org.stopwell.harness.stats.ClusteredMean;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.TrialResult;

/**
 * What the analysed trials of some conditions say about trials to come. Where they lie in several
 * canals with repeats, each canal counts as one number; within one canal they speak of that canal.
 */
final class Intervals {
  private final Report report;
  private final List<TrialResult> analysed;

  private Intervals(Report report, List<TrialResult> analysed) {
    this.report = report;
    this.analysed = analysed;
  }

  static Intervals of(Report report, List<ConditionSummary> conditions) {
    Set<String> names =
        conditions.stream().map(c -> c.condition().name()).collect(Collectors.toSet());
    return new Intervals(
        report,
        report.trials().stream()
            .filter(t -> names.contains(t.condition()) && ConditionSummary.isAnalysed(t.verdict()))
            .toList());
  }

  Optional<Interval> mean(double confidence) {
    Map<String, Moments> canals = new TreeMap<>();
    analysed.stream()
        .filter(TrialResult::stopped)
        .forEach(t -> canals.merge(canal(t), Moments.of(t.stopErrorMicrons(), 1), Moments::plus));
    return canals.size() > 1
        ? ClusteredMean.interval(canals.values(), confidence)
        : canals.values().stream().reduce(Moments.NONE, Moments::plus).meanInterval(confidence);
  }

  Optional<Interval> within(double confidence) {
    Collection<Proportion> canals =
        shares(
            t -> true, t -> ConditionSummary.isWithin(t, report.condition(t).toleranceMicrons()));
    if (canals.size() < 2) {
      return Headline.sum(List.copyOf(canals)).clopperPearson(confidence);
    }
    double[] shares = BoundedMean.shares(canals);
    double each = (1 + confidence) / 2;
    return Optional.of(
        new Interval(BoundedMean.lower(shares, each), BoundedMean.upper(shares, each)));
  }

  OptionalDouble overTravelAtMost(double confidence) {
    return atMost(
        shares(t -> report.condition(t).isAtRisk(t), t -> report.condition(t).isOverTravel(t)),
        confidence);
  }

  OptionalDouble withoutStopAtMost(double confidence) {
    return atMost(shares(t -> true, t -> !t.stopped()), confidence);
  }

  private static OptionalDouble atMost(Collection<Proportion> canals, double confidence) {
    return canals.size() < 2
        ? Headline.sum(List.copyOf(canals)).upperBound(confidence)
        : OptionalDouble.of(BoundedMean.upper(BoundedMean.shares(canals), confidence));
  }

  private Collection<Proportion> shares(
      Predicate<TrialResult> among, Predicate<TrialResult> counts) {
    Map<String, Proportion> canals = new TreeMap<>();
    analysed.stream()
        .filter(among)
        .forEach(
            t ->
                canals.merge(
                    canal(t),
                    new Proportion(counts.test(t) ? 1 : 0, 1),
                    (a, b) -> Headline.sum(List.of(a, b))));
    return canals.values();
  }

  /** One and the same for all trials where each has a canal of its own. */
  private String canal(TrialResult trial) {
    return report.evidence().repeats().canal(trial);
  }
}
