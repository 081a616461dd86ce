package org.stopwell.harness.report;

import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.stopwell.harness.fault.FaultOutcome;
import org.stopwell.harness.plan.Cell;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * The section of the report that says what came of the faults of a plan, condition by condition.
 */
final class FaultSection {
  private FaultSection() {}

  /**
   * A report with this section before the limits of validity; as it was when nothing was faulty.
   */
  static String added(String page, RunHeader header, List<TrialResult> trials) {
    if (trials.stream().noneMatch(FaultSection::isJudged)) {
      return page;
    }
    Plan plan;
    try {
      plan =
          Plan.read(
              new Source("plan", header.planYaml()), new Source("settings", header.settingsYaml()));
    } catch (PlanException e) {
      return page; // a plan of another build; the table of conditions still stands
    }
    int validity = page.indexOf("<section id=\"validity-section\"");
    int at = validity >= 0 ? validity : page.indexOf("</main>");
    return page.substring(0, at) + section(plan, header, trials) + page.substring(at);
  }

  private static boolean isJudged(TrialResult trial) {
    return trial.code().equals(FaultOutcome.AS_EXPECTED)
        || trial.code().equals(FaultOutcome.NOT_AS_EXPECTED);
  }

  private static String section(Plan plan, RunHeader header, List<TrialResult> trials) {
    String label = header.bench().simulated() ? " (simulated)" : "";
    Markup out = new Markup();
    ReportPage.section(out, "fault-section", "What came of the faults");
    String caption = "Faults on purpose" + label + ": what was stated, and what came.";
    out.start("div", "class", "scroll", "tabindex", "0", "role", "region", "aria-label", caption);
    out.start("table", "class", "wide").element("caption", caption);
    out.start("thead").start("tr");
    for (String head : List.of("Condition", "Fault", "Stated", "As stated", "First trial")) {
      out.element("th", head, "scope", "col");
    }
    out.end().end().start("tbody");
    for (Cell cell : plan.cells()) {
      List<TrialResult> own =
          trials.stream().filter(t -> t.condition().equals(cell.name())).toList();
      if (!cell.faults().isEmpty() && !own.isEmpty()) {
        row(out, cell, own);
      }
    }
    out.end().end().end();
    return out.end().toString();
  }

  private static void row(Markup out, Cell cell, List<TrialResult> own) {
    long right = own.stream().filter(t -> t.verdict() == Verdict.PASS).count();
    out.start("tr").element("th", cell.name(), "scope", "row");
    out.element(
        "td",
        cell.faults().stream()
            .map(f -> f.injection().kind().key())
            .collect(Collectors.joining(", ")));
    out.element(
        "td", cell.faults().stream().map(FaultSection::stated).collect(Collectors.joining("; ")));
    out.element("td", right + " of " + own.size());
    out.element("td", own.get(0).message());
    out.end();
  }

  private static String stated(PlannedFault fault) {
    if (!fault.isJudged()) {
      return "nothing";
    }
    return (fault.verdict() == null ? "" : fault.verdict() + " ")
        + fault.cause()
        + (fault.withinNs() == 0
            ? ""
            : String.format(Locale.ROOT, ", rest within %.0f ms", fault.withinNs() / 1e6));
  }
}
