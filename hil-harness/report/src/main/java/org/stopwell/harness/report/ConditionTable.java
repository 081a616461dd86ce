package org.stopwell.harness.report;

import java.util.List;
import java.util.Map;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Expectation;

/** The numbers per condition. */
final class ConditionTable {
  private ConditionTable() {}

  static void write(Markup out, CampaignSummary summary, String label) {
    ReportPage.section(out, "conditions-section", "Condition by condition");
    out.start(
        "div",
        "class",
        "scroll",
        "tabindex",
        "0",
        "role",
        "region",
        "aria-label",
        "Table of conditions");
    out.start("table", "class", "wide");
    out.start("caption");
    out.inline(
        "span",
        "Results per condition"
            + label
            + ". Means and proportions with 95 % intervals, the latter exact; past the foramen with a"
            + " one-sided 95 % upper bound. Trials that the rig spoiled are not among the analysed. The last"
            + " row sums stops over the conditions that shall stop, refusals over the others.");
    out.end();
    out.start("thead").start("tr");
    for (String head :
        List.of(
            "Condition",
            "Analysed",
            "Bias",
            "SD",
            "Within tolerance",
            Words.past(summary.conditions()),
            "Refused")) {
      out.element("th", head, "scope", "col");
    }
    out.end().end().start("tbody");
    for (int i = 0; i < summary.conditions().size(); i++) {
      row(out, summary.conditions().get(i), Integer.toString(i));
    }
    out.end();
    if (summary.conditions().size() > 1) {
      total(out, summary);
    }
    out.end().end().end();
  }

  private static void row(Markup out, ConditionSummary c, String number) {
    out.start("tr");
    out.start("th", "scope", "row").text(c.condition().name());
    out.inline("small", c.condition().expectation().text()).end();
    analysed(out, c.analysed(), c.condition().plannedTrials(), sum(c.rigFaults()), number);
    stopCells(
        out, c.expectsStop(), c.stopErrors(), c.within(), c.condition().toleranceMicrons(), number);
    over(out, c.overTravel(), number);
    if (c.condition().expectation() == Expectation.DEPTH_LIMIT) {
      out.element("td", "–");
    } else {
      refused(out, c.refused(), c.neverStarted(), number);
    }
    out.end();
  }

  /** Stops are summed over the conditions that shall stop, refusals over those to be refused. */
  private static void total(Markup out, CampaignSummary summary) {
    List<ConditionSummary> all = summary.conditions();
    List<ConditionSummary> stops = all.stream().filter(ConditionSummary::expectsStop).toList();
    List<ConditionSummary> refusals =
        all.stream().filter(ConditionSummary::expectsRefusal).toList();
    out.start("tfoot").start("tr");
    out.element("th", "All", "scope", "row");
    analysed(
        out, summary.analysed(), summary.planned(), sum(summary.rigFaults()), Recomputation.ALL);
    stopCells(
        out,
        !stops.isEmpty(),
        Headline.errors(stops),
        Headline.sum(stops, ConditionSummary::within),
        0,
        Recomputation.STOP);
    if (stops.isEmpty()) {
      out.element("td", "–");
    } else {
      over(out, Headline.sum(stops, ConditionSummary::overTravel), Recomputation.STOP);
    }
    if (refusals.isEmpty()) {
      out.element("td", "–");
    } else {
      refused(
          out,
          Headline.sum(refusals, ConditionSummary::refused),
          refusals.stream().mapToInt(ConditionSummary::neverStarted).sum(),
          Recomputation.REFUSE);
    }
    out.end().end();
  }

  private static void analysed(
      Markup out, int analysed, int planned, int rigFaults, String conditions) {
    out.start("td");
    Recomputation.number(out, Integer.toString(analysed), "analysed " + conditions);
    out.startInline("small").text("of ");
    Recomputation.number(out, Integer.toString(planned), "planned " + conditions);
    out.text(" planned" + (rigFaults == 0 ? "" : ", " + Words.count(rigFaults, "rig fault")));
    out.end().end();
  }

  private static int sum(Map<String, Integer> counts) {
    return counts.values().stream().mapToInt(Integer::intValue).sum();
  }

  private static void stopCells(
      Markup out,
      boolean shown,
      Moments errors,
      Proportion within,
      int toleranceMicrons,
      String conditions) {
    if (!shown) {
      out.element("td", "–").element("td", "–").element("td", "–");
      return;
    }
    out.start("td");
    Recomputation.number(
        out, Numbers.signedMillimetres(errors.mean()), Recomputation.of("mean", conditions));
    out.startInline("small");
    Recomputation.number(
        out,
        Numbers.millimetres(errors.meanInterval(0.95)),
        Recomputation.of("mean-interval", conditions, 0.95));
    out.end().end();
    out.start("td");
    Recomputation.number(out, Headline.spread(errors), Recomputation.of("sd", conditions));
    out.startInline("small");
    Recomputation.number(out, Long.toString(errors.count()), Recomputation.of("stops", conditions));
    out.text(" stops").end().end();
    out.start("td");
    Recomputation.number(
        out, Headline.counted(within), Recomputation.of("count", conditions, "within"));
    out.startInline("small");
    if (toleranceMicrons > 0) {
      out.text(Words.tied("±" + Numbers.plainMillimetres(toleranceMicrons) + ": "));
    }
    Recomputation.number(
        out,
        Numbers.percent(within.clopperPearson(0.95)),
        Recomputation.of("interval", conditions, "within", 0.95));
    out.end().end();
  }

  private static void over(Markup out, Proportion over, String conditions) {
    out.start("td");
    Recomputation.number(
        out, Headline.counted(over), Recomputation.of("count", conditions, "over"));
    out.startInline("small").text(over.trials() == 0 ? "" : "at most ");
    Recomputation.number(
        out,
        Numbers.upperPercent(over.upperBound(0.95)),
        Recomputation.of("upper", conditions, "over", 0.95));
    out.end().end();
  }

  private static void refused(Markup out, Proportion refused, int neverStarted, String conditions) {
    out.start("td");
    Recomputation.number(
        out, Headline.counted(refused), Recomputation.of("count", conditions, "unstopped"));
    out.startInline("small");
    Recomputation.number(
        out,
        Numbers.percent(refused.estimate()),
        Recomputation.of("share", conditions, "unstopped"));
    if (neverStarted > 0) {
      out.text("; " + neverStarted + " never started");
    }
    out.end().end();
  }
}
