package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Condition;
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
                    0, t.deepestMicrons() - Report.condition(header, t).overTravelBelowMicrons()))
        .thenComparing(t -> t.verdict() == Verdict.FAIL ? 0 : 1)
        .thenComparing(t -> -Math.abs((long) t.stopErrorMicrons()))
        .thenComparing(TrialResult::index);
  }

  /** Which trials they are, the worst first. */
  List<Integer> indices() {
    return worst.stream().map(TrialResult::index).toList();
  }

  static Optional<Content> of(Report report) {
    List<TrialResult> worst = new WorstTrials(report.header(), report.trials()).worst;
    if (worst.isEmpty()) {
      return Optional.empty();
    }
    Table table =
        new Table(
                "Table of the worst trials",
                "Trials past the foramen first, then failures, then the largest errors"
                    + report.label()
                    + ".")
            .columns(Table.LEFT, "Trial", "Condition")
            .columns(Table.NUMBER, "Stop error")
            .columns(Table.LEFT, "Verdict")
            .columns(Table.SENTENCE, "Reason");
    for (TrialResult trial : worst) {
      table.row(
          Integer.toString(trial.index() + 1),
          trial.condition(),
          trial.stopped() ? Numbers.signedMillimetres(trial.stopErrorMicrons()) : "no stop",
          Words.verdict(trial.verdict()),
          trial.message());
    }
    List<Content> parts = new ArrayList<>();
    parts.add(Html.table(table));
    for (TrialResult trial : worst) {
      report.trace(trial).ifPresent(series -> parts.add(figure(report, trial, series)));
    }
    return Html.section("worst-section", "The worst trials", Html.all(parts));
  }

  private static Content figure(Report report, TrialResult trial, TraceSeries series) {
    String id = "worst-" + trial.index();
    Condition condition = report.condition(trial);
    List<Drawing> drawings = new ArrayList<>();
    drawings.add(
        trial.stopped()
            ? TraceChart.closeUp(id, trial, condition, series).position(report.label())
            : TraceChart.whole(id, trial, condition, series).all(report.label()));
    if (ChainChart.isSplit(trial)) {
      drawings.add(ChainChart.of(id + "-chain", trial).draw(report.label()));
    }
    String heading = "Trial " + (trial.index() + 1) + ", condition " + trial.condition();
    return Html.figure(new Figure(heading, drawings, List.of(), "", trial.message()));
  }
}
