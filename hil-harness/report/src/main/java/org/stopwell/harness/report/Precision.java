package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.stats.BoundedMean;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.MixedModel;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.OneWay;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.TrialResult;

/**
 * How much lies between levels and within: repeatability, reproducibility, and shares with one
 * number for each level.
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

  List<StatisticRow> spread() {
    List<StatisticRow> findings = new ArrayList<>();
    if (choice.groups().isEmpty()) {
      Optional<OneWay> split = OneWay.of(stops.moments(TrialResult::condition));
      findings.add(
          StatisticRow.of(
              "Repeatability s_r",
              split.isEmpty()
                  ? Words.millimetres(stops.errors().standardDeviation().orElse(Double.NaN))
                  : Words.millimetres(split.get().repeatability())
                      + ", "
                      + Numbers.plainPercent(choice.confidence())
                      + " interval "
                      + Words.plain(split.get().repeatabilityInterval(choice.confidence())),
              split.isEmpty()
                  ? "One condition: its standard deviation."
                  : "Standard deviation within one condition (one-way analysis of variance, ISO 5725-2)"
                      + " with its exact interval. It includes differences from trial to trial, such as newly"
                      + " drawn canals."));
      return findings;
    }
    Optional<MixedModel> fit = stops.fit();
    String groups = String.join(", ", choice.groups());
    if (fit.isEmpty()) {
      findings.add(
          StatisticRow.of(
              "Spread by " + groups,
              Numbers.NOT_ESTIMABLE,
              "There must be two levels of each, fewer levels than stops, at most "
                  + MixedModel.MOST_LEVELS
                  + " levels in all, and stops that differ."));
      return findings;
    }
    MixedModel model = fit.get();
    findings.add(
        StatisticRow.of(
            "Bias",
            Numbers.signedMillimetres(model.mean())
                + ", "
                + Numbers.plainPercent(choice.confidence())
                + " interval "
                + Numbers.millimetres(
                    Optional.of(model.ofMean(1).interval((1 - choice.confidence()) / 2))),
            "Mean over levels of "
                + groups
                + " drawn at random (trueness). Mixed model with random intercepts, fixed means of the other"
                + " factors, by restricted maximum likelihood (Bates and others 2015, Journal of"
                + " Statistical Software 67(1)); t with "
                + Words.count(model.freedom(), "degree of freedom", "degrees of freedom")
                + "."));
    List<String> intervals = stops.intervals();
    for (int i = 0; i < choice.groups().size(); i++) {
      findings.add(
          StatisticRow.of(
              "Between levels of " + choice.groups().get(i),
              Words.millimetres(model.deviations().get(i)) + intervals.get(i),
              "Standard deviation between levels: "
                  + Numbers.percent(OptionalDouble.of(model.share(i)))
                  + " of the variance (intraclass correlation)."));
    }
    findings.add(
        StatisticRow.of(
            "Repeatability s_r",
            Words.millimetres(model.residual()) + intervals.get(choice.groups().size()),
            "Standard deviation within one level of each factor."
                + (intervals.get(0).isEmpty()
                    ? ""
                    : " Intervals of deviations by profile likelihood, approximate where levels are"
                        + " few.")));
    findings.add(
        StatisticRow.of(
            "Reproducibility s_R",
            Words.millimetres(model.total()),
            "Standard deviation of one stop with levels drawn at random: all shares above together."));
    return findings;
  }

  /** Shares with one number for each level. */
  List<StatisticRow> shares() {
    String group = choice.groups().get(0);
    return List.of(
        clustered("Within tolerance, by " + group, ConditionSummary::within, group, false),
        clustered("Past the foramen, by " + group, ConditionSummary::overTravel, group, true));
  }

  private StatisticRow clustered(
      String name, Function<ConditionSummary, Proportion> of, String group, boolean upper) {
    Map<String, Proportion> byLevel = new LinkedHashMap<>();
    summary.conditions().stream()
        .filter(ConditionSummary::expectsStop)
        .forEach(
            c ->
                byLevel.merge(
                    choice.level(c.condition().name(), group),
                    of.apply(c),
                    (a, b) -> new Proportion(a.count() + b.count(), a.trials() + b.trials())));
    double[] shares = BoundedMean.shares(byLevel.values());
    Proportion total =
        byLevel.values().stream()
            .reduce(
                new Proportion(0, 0),
                (a, b) -> new Proportion(a.count() + b.count(), a.trials() + b.trials()));
    double c = choice.confidence();
    return StatisticRow.of(
        name,
        shares.length == 0
            ? Numbers.NOT_ESTIMABLE
            : Headline.counted(total)
                + (upper
                    ? "; at most "
                        + Numbers.upperPercent(OptionalDouble.of(BoundedMean.upper(shares, c)))
                    : "; "
                        + Numbers.percent(
                            Optional.of(
                                new Interval(
                                    BoundedMean.lower(shares, (1 + c) / 2),
                                    BoundedMean.upper(shares, (1 + c) / 2))))),
        "Each level of "
            + group
            + " counts as one number, the share of its trials. Bound on the mean of such numbers"
            + " (Gaffke 2005; Phan, Thomas and Learned-Miller 2021).");
  }
}
