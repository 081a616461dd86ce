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
import org.stopwell.harness.claim.Repeats;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.stats.BoundedMean;
import org.stopwell.harness.stats.ClusteredMean;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;

/**
 * What the analysed trials of some conditions say about trials to come. Where they lie in several
 * canals with repeats, each canal counts as one number; within one canal they speak of that canal.
 */
final class Intervals {
  private final RunHeader header;
  private final Repeats repeats;
  private final List<TrialResult> analysed;

  Intervals(RunHeader header, Repeats repeats, List<TrialResult> analysed) {
    this.header = header;
    this.repeats = repeats;
    this.analysed = analysed;
  }

  static Intervals of(Report report, List<ConditionSummary> conditions) {
    Set<String> names =
        conditions.stream().map(c -> c.condition().name()).collect(Collectors.toSet());
    return new Intervals(
        report.header(),
        report.evidence().repeats(),
        report.trials().stream()
            .filter(t -> names.contains(t.condition()) && ConditionSummary.isAnalysed(t.verdict()))
            .toList());
  }

  /** Those of some trials only. */
  Intervals among(Predicate<TrialResult> trials) {
    return new Intervals(header, repeats, analysed.stream().filter(trials).toList());
  }

  /** The mean stop error of those that stopped, µm. */
  Optional<Interval> mean(double confidence) {
    Map<String, Moments> canals = new TreeMap<>();
    analysed.stream()
        .filter(TrialResult::rested)
        .forEach(
            t ->
                canals.merge(repeats.canal(t), Moments.of(t.stopErrorMicrons(), 1), Moments::plus));
    return canals.size() > 1
        ? ClusteredMean.interval(canals.values(), confidence)
        : canals.values().stream().reduce(Moments.NONE, Moments::plus).meanInterval(confidence);
  }

  Optional<Interval> within(double confidence) {
    return among(t -> t.rested() || !condition(t).expectation().mayRefuse())
        .share(t -> ConditionSummary.isWithin(t, condition(t).toleranceMicrons()), confidence);
  }

  OptionalDouble overTravelAtMost(double confidence) {
    return among(t -> condition(t).isAtRisk(t))
        .atMost(t -> condition(t).isOverTravel(t), confidence);
  }

  OptionalDouble withoutStopAtMost(double confidence) {
    return atMost(t -> !t.rested(), confidence);
  }

  private Condition condition(TrialResult trial) {
    return Report.condition(header, trial);
  }

  Optional<Interval> share(Predicate<TrialResult> counts, double confidence) {
    Collection<Proportion> canals = byCanal(counts);
    if (canals.size() < 2) {
      return Headline.sum(List.copyOf(canals)).clopperPearson(confidence);
    }
    double[] shares = BoundedMean.shares(canals);
    double each = (1 + confidence) / 2;
    return Optional.of(
        new Interval(BoundedMean.lower(shares, each), BoundedMean.upper(shares, each)));
  }

  private OptionalDouble atMost(Predicate<TrialResult> counts, double confidence) {
    Collection<Proportion> canals = byCanal(counts);
    return canals.size() < 2
        ? Headline.sum(List.copyOf(canals)).upperBound(confidence)
        : OptionalDouble.of(BoundedMean.upper(BoundedMean.shares(canals), confidence));
  }

  /** A single number where each trial has a canal of its own. */
  private Collection<Proportion> byCanal(Predicate<TrialResult> counts) {
    Map<String, Proportion> canals = new TreeMap<>();
    analysed.forEach(
        t ->
            canals.merge(
                repeats.canal(t),
                new Proportion(counts.test(t) ? 1 : 0, 1),
                (a, b) -> Headline.sum(List.of(a, b))));
    return canals.values();
  }
}
