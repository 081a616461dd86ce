package org.stopwell.harness.report;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** The five worst trials, with the reason of each in one sentence. */
final class WorstTrials {
  private static final int SHOWN = 5;

  private final List<TrialResult> worst;

  WorstTrials(RunHeader header, List<TrialResult> trials) {
    worst =
        trials.stream()
            .filter(t -> ConditionSummary.isAnalysed(t.verdict()))
            .filter(t -> t.stopped() || t.verdict() != Verdict.PASS)
            .sorted(worstFirst(header))
            .limit(SHOWN)
            .toList();
  }

  /** Over-travel first, the deepest before; then failures; then by distance off. */
  private static Comparator<TrialResult> worstFirst(RunHeader header) {
    return Comparator.<TrialResult>comparingInt(
            t ->
                Math.min(
                    0,
                    t.deepestMicrons() - ReportPage.condition(header, t).overTravelBelowMicrons()))
        .thenComparing(t -> t.verdict() == Verdict.FAIL ? 0 : 1)
        .thenComparing(t -> -Math.abs((long) t.stopErrorMicrons()))
        .thenComparing(TrialResult::index);
  }

  /** Which trials they are, the worst first. */
  List<Integer> indices() {
    return worst.stream().map(TrialResult::index).toList();
  }

  void write(Markup out, RunHeader header, Map<Integer, TraceSeries> traces, String label) {
    if (worst.isEmpty()) {
      return;
    }
    ReportPage.section(out, "worst-section", "The worst trials");
    out.start(
        "div",
        "class",
        "scroll",
        "tabindex",
        "0",
        "role",
        "region",
        "aria-label",
        "Table of the worst trials");
    out.start("table");
    out.start("caption");
    out.inline("span", "Over-travel first, then failures, then the largest errors" + label + ".");
    out.end();
    out.start("thead").start("tr");
    out.element("th", "Trial", "scope", "col");
    out.element("th", "Condition", "scope", "col", "class", "left");
    out.element("th", "Stop error", "scope", "col");
    out.element("th", "Verdict", "scope", "col", "class", "left");
    out.element("th", "Why", "scope", "col", "class", "left");
    out.end().end().start("tbody");
    for (TrialResult trial : worst) {
      out.start("tr");
      out.element("th", Integer.toString(trial.index() + 1), "scope", "row");
      out.element("td", trial.condition(), "class", "left");
      out.element(
          "td",
          trial.stopped()
              ? Words.tied(Numbers.signedMillimetres(trial.stopErrorMicrons()))
              : "no stop");
      out.element("td", Words.verdict(trial.verdict()), "class", "left");
      out.element("td", Words.tied(trial.message()), "class", "sentence");
      out.end();
    }
    out.end().end().end();
    for (TrialResult trial : worst) {
      TraceSeries series = traces.get(trial.index());
      if (series != null) {
        trace(out, header, trial, series, label);
      }
    }
    out.end();
  }

  private static void trace(
      Markup out, RunHeader header, TrialResult trial, TraceSeries series, String label) {
    String id = "worst-" + trial.index();
    out.start("figure");
    out.element("h3", "Trial " + (trial.index() + 1) + ", " + trial.condition());
    if (trial.stopped()) {
      TraceChart.closeUp(id, trial, ReportPage.condition(header, trial), series)
          .drawPosition(out, label);
    } else {
      TraceChart.whole(id, trial, ReportPage.condition(header, trial), series).drawAll(out, label);
    }
    if (ChainChart.isSplit(trial)) {
      ChainChart.of(id + "-chain", trial).draw(out, label);
    }
    out.element("figcaption", trial.message());
    out.end();
  }
}
