package org.stopwell.harness.report;

import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.stopwell.harness.fault.FaultOutcome;
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
    if (header.design().faults().isEmpty() || trials.stream().noneMatch(FaultSection::isJudged)) {
      return page;
    }
    int validity = page.indexOf("<section id=\"validity-section\"");
    int at = validity >= 0 ? validity : page.indexOf("</main>");
    return page.substring(0, at) + section(header, trials) + page.substring(at);
  }

  private static boolean isJudged(TrialResult trial) {
    return trial.code().equals(FaultOutcome.AS_EXPECTED)
        || trial.code().equals(FaultOutcome.NOT_AS_EXPECTED);
  }

  private static String section(RunHeader header, List<TrialResult> trials) {
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
    header
        .design()
        .faults()
        .forEach(
            (condition, faults) -> {
              List<TrialResult> own =
                  trials.stream().filter(t -> t.condition().equals(condition)).toList();
              if (!own.isEmpty()) {
                row(out, condition, faults, own);
              }
            });
    out.end().end().end();
    return out.end().toString();
  }

  private static void row(
      Markup out, String condition, List<PlannedFault> faults, List<TrialResult> own) {
    long right = own.stream().filter(t -> t.verdict() == Verdict.PASS).count();
    out.start("tr").element("th", condition, "scope", "row");
    out.element(
        "td",
        faults.stream().map(f -> f.injection().kind().key()).collect(Collectors.joining(", ")));
    out.element("td", faults.stream().map(FaultSection::stated).collect(Collectors.joining("; ")));
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
