package org.stopwell.harness.report;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.stats.Equivalence;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.stats.ToleranceInterval;
import org.stopwell.harness.trial.TrialResult;

/** The statistics that the plan asks for: each with its number, its method and its source. */
final class Statistics {
  private final StatisticsChoice choice;
  private final CampaignSummary summary;
  private final List<TrialResult> trials;
  private final Stops stops;

  Statistics(RunHeader header, CampaignSummary summary, List<TrialResult> trials) {
    this.choice = header.design().analysis().orElse(StatisticsChoice.NOTHING);
    this.summary = summary;
    this.trials = trials;
    this.stops = new Stops(choice, trials);
  }

  /** What a reader of the head must know, where the plan names groups. */
  Optional<String> caution() {
    return choice.groups().isEmpty()
        ? Optional.empty()
        : Optional.of(
            "Trials repeat levels of "
                + String.join(" and ", choice.groups())
                + ". The intervals and claims above take them as independent; those under “What the"
                + " stops say together” do not.");
  }

  void write(Markup out, String label) {
    boolean asked =
        choice.coverage()
            || choice.precision()
            || choice.agreement()
            || choice.sequential()
            || choice.marginMicrons() > 0;
    if (!asked || summary.conditions().stream().noneMatch(ConditionSummary::expectsStop)) {
      return;
    }
    ReportPage.section(out, "statistics-section", "What the stops say together");
    out.element(
        "p",
        "All stops of all conditions that expect one"
            + label
            + ". Each number stands with its method; where the data cannot carry it, it is not"
            + " given.");
    out.start("dl", "class", "findings");
    if (choice.coverage()) {
      coverage(out);
    }
    Precision precision = new Precision(choice, summary, stops);
    if (choice.precision()) {
      precision.write(out);
    }
    if (!choice.groups().isEmpty()) {
      precision.shares(out);
    }
    ReadingAgreement agreement = new ReadingAgreement(choice, stops);
    if (choice.agreement()) {
      agreement.write(out);
    }
    if (choice.marginMicrons() > 0) {
      equivalence(out);
    }
    if (choice.sequential()) {
      Looks.write(out, summary, trials);
    }
    out.end();
    if (choice.agreement()) {
      agreement.draw(out, label);
    }
    out.end();
  }

  private void coverage(Markup out) {
    String part = Numbers.plainPercent(choice.share());
    String name = "Where " + part + " of stops lie";
    String with = " with " + Numbers.plainPercent(choice.confidence()) + " confidence";
    if (!choice.groups().isEmpty()) {
      String group = choice.groups().get(0);
      Optional<Interval> over =
          ToleranceInterval.overGroups(
              stops.moments(t -> choice.level(t.condition(), group)),
              choice.share(),
              choice.confidence());
      StatisticRow.write(
          out,
          name,
          Numbers.millimetres(over),
          over.isEmpty()
              ? "There must be two levels of " + group + ", repeats, and stops that differ."
              : "Tolerance interval for one stop on a level of "
                  + group
                  + " drawn anew,"
                  + with
                  + ", if both spreads are normal: mean ± k s_R, k of as many stops as there are levels"
                  + " (ISO 16269-6), which is careful where repeats differ too.");
      return;
    }
    Optional<Interval> normal =
        ToleranceInterval.twoSided(stops.errors(), choice.share(), choice.confidence());
    StatisticRow.open(out, name);
    Recomputation.number(
        out,
        Numbers.millimetres(normal),
        Recomputation.of("tolerance", Recomputation.STOP, choice.share(), choice.confidence()));
    StatisticRow.how(
        out,
        normal.isEmpty()
            ? stops.tooFew()
            : "Two-sided tolerance interval, mean ± "
                + StatisticRow.decimals(
                    3,
                    ToleranceInterval.twoSidedFactor(
                        stops.errors().count(), choice.share(), choice.confidence()))
                + " standard deviations for "
                + stops.errors().count()
                + " stops,"
                + with
                + ", if stop errors are normal and independent (ISO 16269-6; Odeh 1978).");
    if (stops.errors().count() >= 2) {
      double low = stops.all().stream().mapToInt(TrialResult::stopErrorMicrons).min().orElseThrow();
      double high =
          stops.all().stream().mapToInt(TrialResult::stopErrorMicrons).max().orElseThrow();
      StatisticRow.write(
          out,
          "Least and greatest",
          Numbers.millimetres(Optional.of(new Interval(low, high))),
          "They hold "
              + part
              + " of all stops with "
              + Numbers.percent(
                  OptionalDouble.of(rangeConfidence(stops.errors().count(), choice.share())))
              + " confidence, whatever the distribution, if they are independent (Wilks 1941, Annals"
              + " of Mathematical Statistics 12, 91).");
    }
  }

  /** 1 − n pⁿ⁻¹ + (n − 1) pⁿ. */
  private static double rangeConfidence(long n, double share) {
    return 1 - n * Math.pow(share, n - 1.0) + (n - 1.0) * Math.pow(share, (double) n);
  }

  private void equivalence(Markup out) {
    String margin = Numbers.plainMillimetres(choice.marginMicrons());
    boolean grouped = !choice.groups().isEmpty();
    Optional<Equivalence> test =
        grouped
            ? stops.fit().filter(m -> m.meanError() > 0).map(m -> m.ofMean(choice.marginMicrons()))
            : Equivalence.ofMean(stops.errors(), choice.marginMicrons());
    double alpha = 1 - choice.confidence();
    StatisticRow.write(
        out,
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
                + (grouped ? ", of the mean over levels drawn anew" : "")
                + ": not later than the margin, p "
                + StatisticRow.probability(test.get().lowerP())
                + "; not earlier, p "
                + StatisticRow.probability(test.get().upperP())
                + ". Each alone is a test of non-inferiority to that side.");
  }
}
