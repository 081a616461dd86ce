package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.claim.TrustSummary;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;

/** What the controller knew at its stops: by condition, and as a curve of share against error. */
final class TrustSection {
  /** A curve of fewer stops shows nothing; assumed. */
  private static final int FEWEST = 10;

  private TrustSection() {}

  static Optional<Content> of(Report report) {
    List<ConditionSummary> conditions = report.summary().conditions();
    boolean compared =
        conditions.stream().anyMatch(c -> c.condition().expectation() == Expectation.COMPARE);
    boolean bounded = report.trials().stream().anyMatch(t -> t.boundMicrons() > 0);
    if (report.coded() || !(compared || bounded)) {
      return Optional.empty();
    }
    List<Content> parts = new ArrayList<>();
    parts.add(
        Html.figure(
            new Figure(
                "",
                List.of(new TrustChart(conditions, analysed(report)).draw(report.label())),
                Legend.TRUST,
                report.nextFigure(),
                "One row per condition, one mark per stop; within a row, the canals stand in run"
                    + " order. Right of 0 the file stopped early, left of it late. The outlined block"
                    + " is the median of the stated 95 % bounds.")));
    parts.add(Html.table(table(report)));
    curve(report).ifPresent(parts::add);
    return Html.section(
        "trust-section", "What the controller knew when it stopped", parts.toArray(Content[]::new));
  }

  private static List<TrialResult> analysed(Report report) {
    return report.trials().stream().filter(t -> ConditionSummary.isAnalysed(t.verdict())).toList();
  }

  private static Table table(Report report) {
    Table table =
        new Table(
                "Table of trust",
                "Trust at the decision to stop"
                    + report.label()
                    + ". In small type: exact 95 % intervals"
                    + (report.evidence().repeats().any() ? ", which count canals" : "")
                    + ". Sure and wrong: decided under SURE, and the stop lies outside of the"
                    + " tolerance. Bound covers: the error of the reading lies within its stated"
                    + " bound.")
            .columns(Table.LEFT, "Condition")
            .columns(
                Table.NUMBER,
                "Stopped",
                "Within tolerance",
                Words.past(report.summary().conditions()),
                "Refused",
                "SURE",
                "Sure and wrong",
                "Bound covers");
    for (ConditionSummary c : report.summary().conditions()) {
      Intervals all = Intervals.of(report, List.of(c));
      TrustSummary trust =
          TrustSummary.of(
              c.condition(),
              analysed(report).stream()
                  .filter(t -> t.condition().equals(c.condition().name()))
                  .toList());
      Predicate<TrialResult> wrong = t -> TrustSummary.isWrong(c.condition(), t);
      Intervals stops = all.among(TrialResult::stopped);
      table.row(
          List.of(
              Table.Cell.of(c.condition().name(), c.condition().expectation().text()),
              cell(trust.stopped(), all, TrialResult::stopped),
              cell(
                  new Proportion(c.within().count(), c.stopErrors().count()),
                  stops,
                  t -> !wrong.test(t)),
              cell(c.overTravel(), all.among(c.condition()::isAtRisk), c.condition()::isOverTravel),
              cell(c.refused(), all, t -> !t.stopped() && !t.neverStarted()),
              cell(trust.sure(), stops, TrialResult::sureAtStop),
              cell(trust.sureAndWrong(), all.among(TrialResult::sureAtStop), wrong),
              cell(
                  trust.covered(),
                  all.among(TrialResult::hasCheckedBound),
                  TrialResult::isCovered)));
    }
    return table;
  }

  private static Table.Cell cell(Proportion share, Intervals among, Predicate<TrialResult> counts) {
    return share.trials() == 0
        ? Table.Cell.of("–")
        : Table.Cell.of(Headline.counted(share), Numbers.percent(among.share(counts, 0.95)));
  }

  /** The curve over the conditions that count. */
  private static Optional<Content> curve(Report report) {
    List<TrialResult> stops =
        analysed(report).stream()
            .filter(t -> t.stopped() && t.boundMicrons() > 0)
            .filter(t -> t.expectation() != Expectation.COMPARE)
            .toList();
    if (stops.size() < FEWEST) {
      return Optional.empty();
    }
    List<TrustSummary.Point> points =
        TrustSummary.curve(stops, t -> TrustSummary.isWrong(report.condition(t), t));
    int tolerance = report.condition(stops.get(0)).toleranceMicrons();
    return Optional.of(
        Html.figure(
            new Figure(
                "",
                List.of(TrustChart.curve(points, tolerance, report.label())),
                List.of(),
                report.nextFigure(),
                "Of the "
                    + Words.count(stops.size(), "stop")
                    + " with a stated bound: if every bound up to a limit were called SURE, this share"
                    + " would be called so, and this share of it would lie outside of the tolerance."
                    + " The mark stands at a limit of "
                    + Numbers.plainMillimetres(tolerance)
                    + ".")));
  }
}
