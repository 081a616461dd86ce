package org.stopwell.harness.replay;

import java.io.IOException;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Stage;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.trace.CsvColumns;
import org.stopwell.harness.trace.CsvTrace;
import org.stopwell.harness.trace.TraceException;
import org.stopwell.harness.trace.TraceStepper;
import org.stopwell.harness.trial.Said;

/** Feeds a CSV trace through the controller. */
public final class CsvReplay {
  private final CsvTrace trace;
  private final Settings settings;
  private final Stage stage;

  /**
   * A replay.
   *
   * @param trace what was recorded
   * @param settings the settings of the controller
   * @param stage stage of work
   * @throws TraceException when the trace does not hold the signal that the settings need
   */
  public CsvReplay(CsvTrace trace, Settings settings, Stage stage) throws TraceException {
    trace.check(settings.controller());
    this.trace = trace;
    this.settings = settings;
    this.stage = stage;
  }

  /**
   * Runs it and writes the trace with what the controller said beside it.
   *
   * @param to receives CSV
   * @return every change of state, one sentence each with its time
   * @throws IOException when the CSV cannot be written
   */
  public List<String> run(Appendable to) throws IOException {
    TraceStepper stepper =
        new TraceStepper(trace.columns(), settings.controller(), settings.policies(), stage);
    ControllerOutput out = stepper.out();
    EventReader events = new EventReader(stepper.controller());
    List<Integer> kept = new ArrayList<>();
    List<String> head = new ArrayList<>();
    for (int i = 0; i < trace.head().size(); i++) {
      if (!CsvColumns.ADDED.contains(trace.head().get(i))) {
        kept.add(i);
        head.add(trace.head().get(i));
      }
    }
    head.addAll(CsvColumns.ADDED);
    CSVPrinter printer =
        new CSVPrinter(to, CSVFormat.DEFAULT.builder().setRecordSeparator('\n').get());
    printer.printRecord(head);
    try (CsvTrace.Steps steps = trace.replayed()) {
      while (steps.next()) {
        while (stepper.before(steps.nowNs())) {
          events.collect();
        }
        steps.fill(stepper.commandedMilliRpm(), stepper.in());
        stepper.at(steps.nowNs());
        events.collect();
        List<String> cells = new ArrayList<>();
        List<String> written = steps.written();
        kept.forEach(i -> cells.add(written.get(i)));
        cells.add(out.state.name());
        cells.add(
            out.readingPresent ? BigDecimal.valueOf(out.remainingMicrons, 3).toPlainString() : "");
        cells.add(
            out.boundMicrons > 0 ? BigDecimal.valueOf(out.boundMicrons, 3).toPlainString() : "");
        cells.add(out.trust.name());
        cells.add(out.cause.name());
        cells.add(out.drive.name());
        cells.add(out.reason.name());
        printer.printRecord(cells);
      }
    }
    return events.said().stream().map(Said::line).toList();
  }
}
