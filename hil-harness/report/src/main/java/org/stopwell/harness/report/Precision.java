package org.stopwell.harness.report;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.stats.Clusters;
import org.stopwell.harness.stats.MixedModel;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.OneWay;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.TrialResult;

/**
 * How much lies between levels and within: repeatability, reproducibility, and what repeats are
 * worth.
 */
final class Precision {
  private final StatisticsChoice choice;
  private final CampaignSummary summary;
  private final Stops stops;

  Precision(StatisticsChoice choice, CampaignSummary summary, Stops stops) {
    this.choice = choice;
    this.summary = summary;
    this.stops = stops;
  }

  void write(Markup out) {
    if (choice.groups().isEmpty()) {
      Optional<OneWay> split = OneWay.of(stops.moments(TrialResult::condition));
      StatisticRow.write(
          out,
          "Repeatability s_r",
          split.isEmpty()
              ? StatisticRow.millimetres(stops.errors().standardDeviation().orElse(Double.NaN))
              : StatisticRow.millimetres(split.get().repeatability())
                  + ", "
                  + Numbers.plainPercent(choice.confidence())
                  + " interval "
                  + StatisticRow.plain(split.get().repeatabilityInterval(choice.confidence())),
          split.isEmpty()
              ? "One condition: its standard deviation."
              : "Standard deviation within one condition (one-way analysis of variance, ISO 5725-2)"
                  + " with its exact interval. What differs from trial to trial, such as canals drawn"
                  + " anew, is part of it.");
      return;
    }
    Optional<MixedModel> fit = stops.fit();
    String groups = String.join(", ", choice.groups());
    if (fit.isEmpty()) {
      StatisticRow.write(
          out,
          "Spread by " + groups,
          Numbers.NOT_ESTIMABLE,
          "There must be two levels of each, fewer levels than stops, at most "
              + MixedModel.MOST_LEVELS
              + " levels in all, and stops that differ.");
      return;
    }
    MixedModel model = fit.get();
    StatisticRow.write(
        out,
        "Bias",
        Numbers.signedMillimetres(model.mean())
            + ", "
            + Numbers.plainPercent(choice.confidence())
            + " interval "
            + Numbers.millimetres(
                Optional.of(model.ofMean(1).interval((1 - choice.confidence()) / 2))),
        "Mean over levels of "
            + groups
            + " drawn anew (trueness). Mixed model with random intercepts, fixed means of the other"
            + " factors, by restricted maximum likelihood (Bates and others 2015, Journal of"
            + " Statistical Software 67(1)); t with "
            + Words.count(model.freedom(), "degree of freedom", "degrees of freedom")
            + ".");
    List<String> intervals = stops.intervals();
    for (int i = 0; i < choice.groups().size(); i++) {
      StatisticRow.write(
          out,
          "Between levels of " + choice.groups().get(i),
          StatisticRow.millimetres(model.deviations().get(i)) + intervals.get(i),
          "Standard deviation between levels: "
              + Numbers.percent(OptionalDouble.of(model.share(i)))
              + " of the variance (intraclass correlation).");
    }
    StatisticRow.write(
        out,
        "Repeatability s_r",
        StatisticRow.millimetres(model.residual()) + intervals.get(choice.groups().size()),
        "Standard deviation within a level of each."
            + (intervals.get(0).isEmpty()
                ? ""
                : " Intervals of deviations by profile likelihood, approximate where levels are"
                    + " few."));
    StatisticRow.write(
        out,
        "Reproducibility s_R",
        StatisticRow.millimetres(model.total()),
        "Standard deviation of one stop with levels drawn anew: all of the above together.");
  }

  /** Shares with repeats counted for what they are worth. */
  void shares(Markup out) {
    String group = choice.groups().get(0);
    clustered(out, "Within tolerance, by " + group, ConditionSummary::within, group, false);
    clustered(out, "Past the foramen, by " + group, ConditionSummary::overTravel, group, true);
  }

  private void clustered(
      Markup out,
      String name,
      Function<ConditionSummary, Proportion> of,
      String group,
      boolean upper) {
    Map<String, Proportion> byLevel = new LinkedHashMap<>();
    summary.conditions().stream()
        .filter(ConditionSummary::expectsStop)
        .forEach(
            c ->
                byLevel.merge(
                    choice.level(c.condition().name(), group),
                    of.apply(c),
                    (a, b) -> new Proportion(a.count() + b.count(), a.trials() + b.trials())));
    Optional<Clusters> clusters = Clusters.of(List.copyOf(byLevel.values()));
    double c = choice.confidence();
    StatisticRow.write(
        out,
        name,
        clusters.isEmpty()
            ? Numbers.NOT_ESTIMABLE
            : Headline.counted(clusters.get().total())
                + (upper
                    ? "; at most "
                        + Numbers.upperPercent(
                            OptionalDouble.of(clusters.get().interval(2 * c - 1).high()))
                    : "; " + Numbers.percent(Optional.of(clusters.get().interval(c)))),
        clusters.isEmpty()
            ? "There must be two levels of " + group + " with trials."
            : "Repeats on one level are not so many levels: the trials are worth "
                + StatisticRow.decimals(1, clusters.get().effectiveTrials())
                + " independent ones. Exact interval on that number (Korn and Graubard 1998, Survey"
                + " Methodology 24, 193)"
                + (clusters.get().total().count() == 0
                        || clusters.get().total().count() == clusters.get().total().trials()
                    ? "; all trials being alike, each level counts as one."
                    : "."));
  }
}
