package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** One trial from start to stop: the first that passed with a stop, else any with a trace. */
final class ExampleTrial {
  private ExampleTrial() {}

  static Optional<Content> of(Report report) {
    Optional<TrialResult> example = choose(report);
    return example.flatMap(trial -> section(report, trial));
  }

  private static Optional<Content> section(Report report, TrialResult trial) {
    TraceSeries series = report.trace(trial).orElseThrow();
    Condition condition = report.condition(trial);
    List<Drawing> drawings = new ArrayList<>();
    drawings.add(TraceChart.whole("trace", trial, condition, series).all(report.label()));
    if (trial.stopped()) {
      drawings.add(TraceChart.closeUp("trace", trial, condition, series).position(report.label()));
    }
    return Html.section(
        "trace-section",
        "One trial, from start to stop",
        Html.figure(
            new Figure(
                "",
                drawings,
                Legend.TRACE,
                report.nextFigure(),
                "Trial "
                    + (trial.index() + 1)
                    + ", condition "
                    + trial.condition()
                    + ". "
                    + trial.message())));
  }

  private static Optional<TrialResult> choose(Report report) {
    List<TrialResult> traced = report.trials().stream().filter(t -> moves(report, t)).toList();
    return traced.stream()
        .filter(t -> t.stopped() && t.verdict() == Verdict.PASS)
        .findFirst()
        .or(() -> traced.stream().filter(TrialResult::stopped).findFirst())
        .or(() -> traced.stream().findFirst());
  }

  /** Of a trial that the bench refused at once there is nothing to draw. */
  private static boolean moves(Report report, TrialResult trial) {
    return report.trace(trial).filter(series -> series.steps().size() > 1).isPresent();
  }
}
