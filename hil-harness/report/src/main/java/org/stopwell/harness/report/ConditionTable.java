package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Expectation;

/** The numbers per condition. */
final class ConditionTable {
  private static final Table.Cell NONE = Table.Cell.of("–");

  private ConditionTable() {}

  static Optional<Content> of(Report report) {
    CampaignSummary summary = report.summary();
    Table table =
        new Table(
                "Table of conditions",
                "Results per condition"
                    + report.label()
                    + ". Means and shares have 95 % intervals; those of shares are exact. The bound"
                    + " for trials past the foramen is one-sided. Trials that the rig spoiled are"
                    + " not analysed. The last row sums stops over the conditions that must stop,"
                    + " and refusals over those that must be refused.")
            .columns(Table.LEFT, "Condition")
            .columns(
                Table.NUMBER,
                "Analysed",
                "Bias",
                "SD",
                "Within tolerance",
                Words.past(summary.conditions()),
                "Refused");
    for (int i = 0; i < summary.conditions().size(); i++) {
      table.row(row(summary.conditions().get(i), Integer.toString(i)));
    }
    if (summary.conditions().size() > 1) {
      table.foot(total(summary));
    }
    return Html.section("conditions-section", "Results by condition", Html.table(table));
  }

  private static List<Table.Cell> row(ConditionSummary c, String number) {
    List<Table.Cell> cells = new ArrayList<>();
    cells.add(Table.Cell.of(c.condition().name(), c.condition().expectation().text()));
    cells.add(analysed(c.analysed(), c.condition().plannedTrials(), sum(c.rigFaults()), number));
    cells.addAll(
        c.expectsStop()
            ? stops(c.stopErrors(), c.within(), c.condition().toleranceMicrons(), number)
            : List.of(NONE, NONE, NONE));
    cells.add(over(c.overTravel(), number));
    cells.add(
        c.condition().expectation() == Expectation.DEPTH_LIMIT
            ? NONE
            : refused(c.refused(), c.neverStarted(), number));
    return cells;
  }

  /** Stops are summed over the conditions that must stop, refusals over those to be refused. */
  private static List<Table.Cell> total(CampaignSummary summary) {
    List<ConditionSummary> all = summary.conditions();
    List<ConditionSummary> stops = all.stream().filter(ConditionSummary::expectsStop).toList();
    List<ConditionSummary> refusals =
        all.stream().filter(ConditionSummary::expectsRefusal).toList();
    List<Table.Cell> cells = new ArrayList<>();
    cells.add(Table.Cell.of("All"));
    cells.add(
        analysed(
            summary.analysed(), summary.planned(), sum(summary.rigFaults()), Recomputation.ALL));
    if (stops.isEmpty()) {
      cells.addAll(List.of(NONE, NONE, NONE, NONE));
    } else {
      Proportion within = Headline.sum(stops, ConditionSummary::within);
      cells.addAll(stops(Headline.errors(stops), within, 0, Recomputation.STOP));
      cells.add(over(Headline.sum(stops, ConditionSummary::overTravel), Recomputation.STOP));
    }
    cells.add(
        refusals.isEmpty()
            ? NONE
            : refused(
                Headline.sum(refusals, ConditionSummary::refused),
                refusals.stream().mapToInt(ConditionSummary::neverStarted).sum(),
                Recomputation.REFUSE));
    return cells;
  }

  private static Table.Cell analysed(int analysed, int planned, int rigFaults, String conditions) {
    return new Table.Cell(
        number(Integer.toString(analysed), "analysed", conditions),
        Prose.of("of ")
            .number(Integer.toString(planned), Recomputation.is("planned", conditions))
            .text(" planned" + (rigFaults == 0 ? "" : ", " + Words.count(rigFaults, "rig fault"))));
  }

  private static int sum(Map<String, Integer> counts) {
    return counts.values().stream().mapToInt(Integer::intValue).sum();
  }

  private static List<Table.Cell> stops(
      Moments errors, Proportion within, int toleranceMicrons, String conditions) {
    String band =
        toleranceMicrons > 0 ? "±" + Numbers.plainMillimetres(toleranceMicrons) + ": " : "";
    return List.of(
        new Table.Cell(
            number(Numbers.signedMillimetres(errors.mean()), "mean", conditions),
            number(
                Numbers.millimetres(errors.meanInterval(0.95)), "mean-interval", conditions, 0.95)),
        new Table.Cell(
            number(Headline.spread(errors), "sd", conditions),
            number(Long.toString(errors.count()), "stops", conditions)
                .text(errors.count() == 1 ? " stop" : " stops")),
        new Table.Cell(
            number(Headline.counted(within), "count", conditions, "within"),
            Prose.of(band)
                .number(
                    Numbers.percent(within.clopperPearson(0.95)),
                    Recomputation.is("interval", conditions, "within", 0.95))));
  }

  private static Table.Cell over(Proportion over, String conditions) {
    return new Table.Cell(
        number(Headline.counted(over), "count", conditions, "over"),
        Prose.of(over.trials() == 0 ? "" : "at most ")
            .number(
                Numbers.upperPercent(over.upperBound(0.95)),
                Recomputation.is("upper", conditions, "over", 0.95)));
  }

  private static Table.Cell refused(Proportion refused, int neverStarted, String conditions) {
    return new Table.Cell(
        number(Headline.counted(refused), "count", conditions, "unstopped"),
        number(Numbers.percent(refused.estimate()), "share", conditions, "unstopped")
            .text(neverStarted == 0 ? "" : "; " + neverStarted + " never started"));
  }

  private static Prose number(
      String text, String statistic, String conditions, Object... arguments) {
    return new Prose().number(text, Recomputation.is(statistic, conditions, arguments));
  }
}
