package org.stopwell.harness.report;

import java.util.List;
import java.util.Map;
import org.stopwell.harness.stats.CampaignSummary;
import org.stopwell.harness.stats.ConditionSummary;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;

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
            + " one-sided 95 % upper bound. Trials that the rig spoiled are not among the analysed.");
    out.end();
    out.start("thead").start("tr");
    for (String head :
        List.of(
            "Condition",
            "Analysed",
            "Bias",
            "SD",
            "Within tolerance",
            "Past the foramen",
            "Refused")) {
      out.element("th", head, "scope", "col");
    }
    out.end().end().start("tbody");
    for (ConditionSummary c : summary.conditions()) {
      row(out, c);
    }
    out.end();
    if (summary.conditions().size() > 1) {
      total(out, summary);
    }
    out.end().end().end();
  }

  private static void row(Markup out, ConditionSummary c) {
    out.start("tr");
    out.start("th", "scope", "row").text(c.condition().name());
    out.inline("small", c.expectsStop() ? "expected to stop" : "expected to refuse").end();
    analysed(out, c.analysed(), c.condition().plannedTrials(), sum(c.rigFaults()));
    stopCells(out, c.expectsStop(), c.stopErrors(), c.within(), c.condition().toleranceMicrons());
    endCells(out, c.overTravel(), c.refused());
    out.end();
  }

  private static void total(Markup out, CampaignSummary summary) {
    List<ConditionSummary> all = summary.conditions();
    List<ConditionSummary> stops = all.stream().filter(ConditionSummary::expectsStop).toList();
    Moments errors =
        stops.stream().map(ConditionSummary::stopErrors).reduce(Moments.NONE, Moments::plus);
    Proportion within = ReportPage.sum(stops, ConditionSummary::within);
    out.start("tfoot").start("tr");
    out.element("th", "All", "scope", "row");
    analysed(out, summary.analysed(), summary.planned(), sum(summary.rigFaults()));
    stopCells(out, !stops.isEmpty(), errors, within, 0);
    endCells(
        out,
        ReportPage.sum(all, ConditionSummary::overTravel),
        ReportPage.sum(all, ConditionSummary::refused));
    out.end().end();
  }

  private static void analysed(Markup out, int analysed, int planned, int rigFaults) {
    cell(
        out,
        Integer.toString(analysed),
        "of "
            + planned
            + " planned"
            + (rigFaults == 0 ? "" : ", " + Words.count(rigFaults, "rig fault")));
  }

  private static int sum(Map<String, Integer> counts) {
    return counts.values().stream().mapToInt(Integer::intValue).sum();
  }

  private static void stopCells(
      Markup out, boolean shown, Moments errors, Proportion within, int toleranceMicrons) {
    if (!shown) {
      out.element("td", "–").element("td", "–").element("td", "–");
      return;
    }
    cell(
        out,
        Numbers.signedMillimetres(errors.mean()),
        Numbers.millimetres(errors.meanInterval(0.95)));
    cell(out, ReportPage.spread(errors), errors.count() + " stops");
    cell(
        out,
        within.count() + " of " + within.trials(),
        (toleranceMicrons > 0 ? "±" + Numbers.plainMillimetres(toleranceMicrons) + ": " : "")
            + Numbers.percent(within.clopperPearson(0.95)));
  }

  private static void endCells(Markup out, Proportion over, Proportion refused) {
    cell(
        out,
        over.count() + " of " + over.trials(),
        over.trials() == 0
            ? Numbers.NOT_ESTIMABLE
            : "at most " + Numbers.upperPercent(over.upperBound(0.95)));
    cell(out, refused.count() + " of " + refused.trials(), Numbers.percent(refused.estimate()));
  }

  private static void cell(Markup out, String value, String more) {
    out.start("td").inline("span", value).inline("small", Words.tied(more)).end();
  }
}
