package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.stopwell.harness.fault.FaultOutcome;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** The faults that a plan injects and their results, by condition. */
final class FaultSection {
  private FaultSection() {}

  static Optional<Content> of(Report report) {
    if (report.coded()
        || report.header().design().faults().isEmpty()
        || report.trials().stream().noneMatch(FaultSection::isJudged)) {
      return Optional.empty();
    }
    return Html.section("fault-section", "Injected faults and results", Html.table(table(report)));
  }

  private static boolean isJudged(TrialResult trial) {
    return trial.code().equals(FaultOutcome.AS_EXPECTED)
        || trial.code().equals(FaultOutcome.NOT_AS_EXPECTED);
  }

  private static Table table(Report report) {
    Table table =
        new Table(
                "Injected faults" + report.label() + ": what the plan expects, and what happened.")
            .columns(Table.LEFT, "Condition", "Fault", "Expected", "As expected")
            .columns(Table.SENTENCE, "First trial");
    report
        .header()
        .design()
        .faults()
        .forEach(
            (condition, faults) -> {
              List<TrialResult> own =
                  report.trials().stream().filter(t -> t.condition().equals(condition)).toList();
              if (!own.isEmpty()) {
                row(table, condition, faults, own);
              }
            });
    return table;
  }

  private static void row(
      Table table, String condition, List<PlannedFault> faults, List<TrialResult> own) {
    long asStated = own.stream().filter(t -> t.verdict() == Verdict.PASS).count();
    table.row(
        condition,
        faults.stream().map(f -> f.injection().kind().key()).collect(Collectors.joining(", ")),
        faults.stream().map(FaultSection::stated).collect(Collectors.joining("; ")),
        asStated + " of " + own.size(),
        own.get(0).message());
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
