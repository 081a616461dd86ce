package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.claim.Repeats;
import org.stopwell.harness.stats.ClusteredMean;
import org.stopwell.harness.stats.Equivalence;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.stats.ToleranceInterval;
import org.stopwell.harness.trial.TrialResult;

/** The statistics that the plan asks for: each with its number, its method and its source. */
final class Statistics {
  /** The heading of the section. */
  static final String TITLE = "Statistics of all stops";

  private final StatisticsChoice choice;
  private final Stops stops;
  private final Repeats repeats;

  private Statistics(StatisticsChoice choice, Stops stops, Repeats repeats) {
    this.choice = choice;
    this.stops = stops;
    this.repeats = repeats;
  }

  static Optional<Content> of(Report report) {
    StatisticsChoice choice = report.choice();
    CampaignSummary summary = report.summary();
    boolean asked =
        choice.coverage()
            || choice.precision()
            || choice.agreement()
            || choice.sequential()
            || choice.marginMicrons() > 0;
    if (!asked || summary.conditions().stream().noneMatch(ConditionSummary::expectsStop)) {
      return Optional.empty();
    }
    Stops stops = new Stops(choice, report.trials());
    Repeats repeats = report.evidence().repeats();
    Statistics statistics = new Statistics(choice, stops, repeats);
    Precision precision = new Precision(choice, summary, stops);
    ReadingAgreement agreement = new ReadingAgreement(choice, stops, repeats);
    List<StatisticRow> findings = new ArrayList<>();
    if (choice.coverage() || choice.precision()) {
      findings.add(statistics.withoutStop(report));
    }
    if (choice.coverage()) {
      findings.addAll(statistics.coverage());
    }
    if (choice.precision()) {
      findings.addAll(precision.spread());
    }
    if (!choice.groups().isEmpty()) {
      findings.addAll(precision.shares());
    }
    if (choice.agreement()) {
      findings.add(
          report.coded()
              ? StatisticRow.of(
                  "Reading against truth",
                  "hidden",
                  "Readings at a stop differ between levels by design. They are shown when the run"
                      + " is unblinded.")
              : agreement.finding());
    }
    if (choice.marginMicrons() > 0) {
      findings.add(statistics.equivalence());
    }
    if (choice.sequential()) {
      findings.addAll(Looks.of(summary, report.trials()));
    }
    return Html.section(
        "statistics-section",
        TITLE,
        Html.paragraph(
            "All stops of all conditions that must stop"
                + report.label()
                + ". Each number stands beside its method. A number that the data do not support is"
                + " left out."),
        Html.findings(findings),
        Html.all(choice.agreement() ? agreement.figure(report) : List.of()));
  }

  /** Trials without a stop error, and what they leave of the share that the interval promises. */
  private StatisticRow withoutStop(Report report) {
    List<ConditionSummary> conditions =
        report.summary().conditions().stream().filter(ConditionSummary::expectsStop).toList();
    Proportion within = Headline.sum(conditions, ConditionSummary::within);
    Proportion all =
        new Proportion(within.trials() - Headline.errors(conditions).count(), within.trials());
    String name = "Trials without a stop";
    if (all.trials() == 0) {
      return StatisticRow.of(name, Numbers.NOT_ESTIMABLE, "No trial was analysed.");
    }
    String stop = Recomputation.STOP;
    double confidence = choice.confidence();
    double most = Intervals.of(report, conditions).withoutStopAtMost(confidence).orElseThrow();
    return new StatisticRow(
        name,
        new Prose()
            .number(Headline.counted(all), Recomputation.is("count", stop, "without"))
            .text("; with " + Numbers.plainPercent(confidence) + " confidence at most ")
            .number(
                Numbers.upperPercent(OptionalDouble.of(most)),
                Recomputation.is("upper", stop, "without", confidence)),
        Prose.of(
            "They have no stop error, so bias, spread and the intervals below are those of the trials"
                + " that stopped."
                + (choice.coverage()
                    ? " Worst case: with as many of them as this bound says, each a miss, the tolerance"
                        + " interval contains "
                        + Numbers.lowerPercent(OptionalDouble.of(choice.share() * (1 - most)))
                        + " of all trials in place of "
                        + Numbers.plainPercent(choice.share())
                        + "."
                    : "")));
  }

  private List<StatisticRow> coverage() {
    String part = Numbers.plainPercent(choice.share());
    String name = "Where " + part + " of stops lie";
    String with = " with " + Numbers.plainPercent(choice.confidence()) + " confidence";
    if (repeats.any()) {
      String canal = repeats.one();
      Optional<Interval> over =
          ToleranceInterval.overGroups(
              stops.moments(repeats::canal), choice.share(), choice.confidence());
      return List.of(
          StatisticRow.of(
              name,
              Numbers.millimetres(over),
              over.isEmpty()
                  ? "There must be more than one " + canal + ", repeats, and stops that differ."
                  : "Tolerance interval for one stop in a "
                      + canal
                      + " drawn at random,"
                      + with
                      + ", if both spreads are normal: mean ± k s_R, k of as many stops as of these"
                      + " (ISO 16269-6), which is careful where repeats differ too."));
    }
    Optional<Interval> normal =
        ToleranceInterval.twoSided(stops.errors(), choice.share(), choice.confidence());
    List<StatisticRow> findings = new ArrayList<>();
    findings.add(
        new StatisticRow(
            name,
            new Prose()
                .number(
                    Numbers.millimetres(normal),
                    Recomputation.is(
                        "tolerance", Recomputation.STOP, choice.share(), choice.confidence())),
            Prose.of(
                normal.isEmpty()
                    ? stops.tooFew()
                    : "Two-sided tolerance interval, mean ± "
                        + Words.decimals(
                            3,
                            ToleranceInterval.twoSidedFactor(
                                stops.errors().count(), choice.share(), choice.confidence()))
                        + " standard deviations for "
                        + stops.errors().count()
                        + " stops,"
                        + with
                        + ", if stop errors are normal and independent (ISO 16269-6; Odeh 1978).")));
    if (stops.errors().count() >= 2) {
      double low = stops.all().stream().mapToInt(TrialResult::stopErrorMicrons).min().orElseThrow();
      double high =
          stops.all().stream().mapToInt(TrialResult::stopErrorMicrons).max().orElseThrow();
      findings.add(
          StatisticRow.of(
              "Least and greatest",
              Numbers.millimetres(Optional.of(new Interval(low, high))),
              "They hold "
                  + part
                  + " of all stops with "
                  + Numbers.percent(
                      OptionalDouble.of(rangeConfidence(stops.errors().count(), choice.share())))
                  + " confidence, whatever the distribution, if they are independent (Wilks 1941, Annals"
                  + " of Mathematical Statistics 12, 91)."));
    }
    return findings;
  }

  /** 1 − n pⁿ⁻¹ + (n − 1) pⁿ. */
  private static double rangeConfidence(long n, double share) {
    return 1 - n * Math.pow(share, n - 1.0) + (n - 1.0) * Math.pow(share, (double) n);
  }

  private StatisticRow equivalence() {
    String margin = Numbers.plainMillimetres(choice.marginMicrons());
    boolean grouped = !choice.groups().isEmpty();
    Optional<Equivalence> test =
        grouped
            ? stops.fit().filter(m -> m.meanError() > 0).map(m -> m.ofMean(choice.marginMicrons()))
            : repeats.any()
                ? ClusteredMean.within(stops.moments(repeats::canal), choice.marginMicrons())
                : Equivalence.ofMean(stops.errors(), choice.marginMicrons());
    double alpha = 1 - choice.confidence();
    return StatisticRow.of(
        "Mean within ±" + margin,
        test.isEmpty()
            ? Numbers.NOT_ESTIMABLE
            : (test.get().isEquivalent(alpha) ? "shown" : "not shown")
                + ": "
                + Numbers.plainPercent(1 - 2 * alpha)
                + " interval "
                + Numbers.millimetres(Optional.of(test.get().interval(alpha))),
        test.isEmpty()
            ? grouped ? "The spread by groups is not estimable." : stops.tooFew()
            : "Two one-sided t tests (Schuirmann 1987) at "
                + Numbers.plainPercent(alpha)
                + (grouped
                    ? ", of the mean over levels drawn at random"
                    : repeats.any() ? ", of the means of each " + repeats.one() : "")
                + ": not later than the margin, p "
                + Words.probability(test.get().lowerP())
                + "; not earlier, p "
                + Words.probability(test.get().upperP())
                + ". Each alone is a test of non-inferiority to that side.");
  }
}
