package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.stopwell.harness.claim.Basis;
import org.stopwell.harness.claim.ByCondition;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ClaimOutcome;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.Verdict;

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
                    + ". Means and shares have 95 % intervals"
                    + intervals(report)
                    + " The bound"
                    + " for trials past the foramen is one-sided; they are out of the driven trials,"
                    + " and a trial that was refused, never started or was cut short by the time"
                    + " limit counts only if it went past. Trials that the rig spoiled are"
                    + " not analysed. Where a refusal is as expected, stops within the tolerance are out"
                    + " of the trials that stopped. The last row sums stops over the conditions that must stop,"
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
      table.row(row(report, summary.conditions().get(i), Integer.toString(i)));
    }
    if (summary.conditions().size() > 1) {
      table.foot(total(report));
    }
    return Html.section(
        "conditions-section", "Results by condition", Html.table(table), Html.all(each(report)));
  }

  private static String intervals(Report report) {
    if (!report.evidence().repeats().any()) {
      return "; those of shares are exact.";
    }
    List<String> groups = report.choice().groups();
    return groups.isEmpty()
        ? ", in which every " + report.evidence().repeats().one() + " counts as one number."
        : ". Those of a condition are of its own level of "
            + groups.get(0)
            + "; in those of the last row every level counts as one number.";
  }

  /** A table for every claim on each condition. */
  private static List<Content> each(Report report) {
    CampaignSummary summary = report.summary();
    List<String> names = summary.conditions().stream().map(c -> c.condition().name()).toList();
    List<Content> tables = new ArrayList<>();
    for (int i = 0; i < summary.claims().size(); i++) {
      ClaimOutcome outcome = summary.claims().get(i);
      ByCondition by = outcome.conditions();
      if (!outcome.claim().each() || by.names().size() < 2) {
        continue;
      }
      boolean mean = outcome.claim().endpoint() == Claim.Endpoint.BIAS;
      Table table =
          new Table(
                  "Claim " + (i + 1) + " in each condition",
                  "Claim "
                      + (i + 1)
                      + " in each condition"
                      + report.label()
                      + ". The bound is that of the condition alone, with the confidence of the claim."
                      + " The result is that of Holm's step-down over all of them.")
              .columns(Table.LEFT, "Condition")
              .columns(
                  Table.NUMBER, mean ? "Mean" : "Trials", mean ? "Interval" : "Bound", "Result");
      for (String name : by.names()) {
        table.row(each(outcome, name, i + " " + names.indexOf(name)));
      }
      tables.add(Html.table(table));
    }
    return tables;
  }

  private static List<Table.Cell> each(ClaimOutcome claim, String name, String place) {
    ClaimOutcome one = claim.conditions().alone(name);
    String result =
        Words.claimVerdict(
            claim.conditions().holding().contains(name)
                ? Verdict.PASS
                : claim.conditions().contradicted().contains(name)
                    ? Verdict.FAIL
                    : Verdict.UNDECIDED);
    boolean atMost = claim.claim().endpoint().isAtMost();
    return one.basis() instanceof Basis.Mean mean
        ? List.of(
            Table.Cell.of(name),
            Table.Cell.number(Numbers.signedMillimetres(mean.mean()), "alone-mean " + place),
            Table.Cell.number(Numbers.millimetres(one.interval()), "alone-interval " + place),
            Table.Cell.number(result, "alone-result " + place))
        : List.of(
            Table.Cell.of(name),
            Table.Cell.number(Headline.counted(one.counted()), "alone-count " + place),
            one.interval().isEmpty()
                ? NONE
                : Table.Cell.number(
                    atMost
                        ? Numbers.upperPercent(OptionalDouble.of(one.interval().get().high()))
                        : Numbers.lowerPercent(OptionalDouble.of(one.interval().get().low())),
                    "alone-bound " + place),
            Table.Cell.number(result, "alone-result " + place));
  }

  private static List<Table.Cell> row(Report report, ConditionSummary c, String number) {
    Intervals intervals = Intervals.of(report, List.of(c));
    List<Table.Cell> cells = new ArrayList<>();
    cells.add(Table.Cell.of(c.condition().name(), c.condition().expectation().text()));
    cells.add(analysed(c.analysed(), c.condition().plannedTrials(), sum(c.rigFaults()), number));
    cells.addAll(
        c.condition().expectation().rests() || c.mayRefuse()
            ? stops(c.stopErrors(), c.within(), intervals, c.condition().toleranceMicrons(), number)
            : List.of(NONE, NONE, NONE));
    cells.add(over(c.overTravel(), intervals, number));
    cells.add(
        c.condition().expectation() == Expectation.DEPTH_LIMIT
                || c.condition().expectation() == Expectation.SURVEY
            ? NONE
            : refused(c.refused(), c.neverStarted(), number));
    return cells;
  }

  /** Stops are summed over the conditions that must stop, refusals over those to be refused. */
  private static List<Table.Cell> total(Report report) {
    CampaignSummary summary = report.summary();
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
      Intervals intervals = Intervals.of(report, stops);
      cells.addAll(stops(Headline.errors(stops), within, intervals, 0, Recomputation.STOP));
      cells.add(
          over(Headline.sum(stops, ConditionSummary::overTravel), intervals, Recomputation.STOP));
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
      Moments errors,
      Proportion within,
      Intervals intervals,
      int toleranceMicrons,
      String conditions) {
    String band =
        toleranceMicrons > 0 ? "±" + Numbers.plainMillimetres(toleranceMicrons) + ": " : "";
    return List.of(
        new Table.Cell(
            number(Numbers.signedMillimetres(errors.mean()), "mean", conditions),
            number(Numbers.millimetres(intervals.mean(0.95)), "mean-interval", conditions, 0.95)),
        new Table.Cell(
            number(Headline.spread(errors), "sd", conditions),
            number(Long.toString(errors.count()), "stops", conditions)
                .text(errors.count() == 1 ? " stop" : " stops")),
        new Table.Cell(
            number(Headline.counted(within), "count", conditions, "within"),
            Prose.of(band)
                .number(
                    Numbers.percent(intervals.within(0.95)),
                    Recomputation.is("interval", conditions, "within", 0.95))));
  }

  private static Table.Cell over(Proportion over, Intervals intervals, String conditions) {
    return new Table.Cell(
        number(Headline.counted(over), "count", conditions, "over"),
        Prose.of(over.trials() == 0 ? "" : "at most ")
            .number(
                Numbers.upperPercent(intervals.overTravelAtMost(0.95)),
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
