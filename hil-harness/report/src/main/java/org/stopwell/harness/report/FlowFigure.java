package org.stopwell.harness.report;

import java.util.List;
import java.util.Map;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ConditionSummary;

/** Where every planned trial went: planned → run → analysed → passed, and what fell away where. */
final class FlowFigure {
  private FlowFigure() {}

  static void write(Markup out, CampaignSummary summary) {
    List<ConditionSummary> all = summary.conditions();
    int passed = all.stream().mapToInt(ConditionSummary::passed).sum();
    int failed = all.stream().mapToInt(ConditionSummary::failed).sum();
    int undecided = all.stream().mapToInt(ConditionSummary::undecided).sum();
    ReportPage.section(out, "flow-section", "Where every trial went");
    out.start("ol", "class", "flow");
    box(out, summary.planned(), "planned", "planned all");
    aside(out, summary.planned() - summary.run(), "not run");
    out.end().end();
    box(out, summary.run(), "run", "run all");
    int faults = 0;
    for (Map.Entry<String, Integer> fault : summary.rigFaults().entrySet()) {
      aside(out, fault.getValue(), "invalid: " + fault.getKey());
      faults += fault.getValue();
    }
    if (faults == 0) {
      aside(out, 0, "invalid");
    }
    aside(
        out,
        summary.safetyStops(),
        summary.safetyStops() == 1 ? "safety stop" : "safety stops",
        "data-is",
        "verdicts all S");
    out.end().end();
    box(out, summary.analysed(), "analysed", "analysed all");
    aside(out, failed, "failed", "data-is", "verdicts all F");
    aside(out, undecided, "undecided", "data-is", "verdicts all U");
    out.end().end();
    out.start("li").inline("b", Integer.toString(passed), "data-is", "verdicts all P");
    out.text("passed").end();
    out.end().end();
  }

  /** Opens a box and the list of what leaves the flow there. */
  private static void box(Markup out, int count, String name, String what) {
    out.start("li").inline("b", Integer.toString(count), "data-is", what).text(name).start("ul");
  }

  private static void aside(Markup out, int count, String name, String... attributes) {
    out.start("li").inline("b", Integer.toString(count), attributes).text(" " + name).end();
  }
}
