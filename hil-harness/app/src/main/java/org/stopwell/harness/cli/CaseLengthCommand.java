package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Optional;
import org.stopwell.harness.casework.CanalHistory;
import org.stopwell.harness.casework.CaseCanal;
import org.stopwell.harness.casework.CaseEntry;
import org.stopwell.harness.casework.CaseLength;
import org.stopwell.harness.casework.CaseRecord;
import org.stopwell.harness.casework.CaseStamp;
import org.stopwell.harness.casework.CaseStep;
import org.stopwell.harness.casework.CaseWords;
import org.stopwell.harness.casework.RecordedEntry;
import org.stopwell.harness.casework.StepFile;
import org.stopwell.harness.casework.StepPlan;
import org.stopwell.harness.length.LengthMethod;
import org.stopwell.harness.length.ReferencePoint;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.trial.TrialSpec;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** A step of a case that measures a length. */
abstract class CaseLengthCommand extends StopwellCommand {
  @Mixin BenchOptions benches = new BenchOptions();

  @Mixin MeasureOptions measure = new MeasureOptions();

  @Mixin OperatorOption operator = new OperatorOption();

  @Parameters(index = "0", paramLabel = "DIR", description = "Directory of the case.")
  Path directory = Path.of("");

  @Parameters(index = "1", paramLabel = "CANAL", description = "Name of the canal.")
  String canal = "";

  @Option(
      names = "--reference-error-mm",
      paramLabel = "MM",
      description =
          "Largest error of the reference point, either way, mm; part of the uncertainty."
              + " Default: ${DEFAULT-VALUE}.",
      defaultValue = "0.1")
  double referenceErrorMm = 0.1;

  /** What a step measured. */
  record Found(
      CanalHistory history,
      CaseCanal canal,
      CaseStamp stamp,
      StepFile file,
      LengthSession.Done done) {

    /** The length as it is recorded. */
    Optional<CaseLength> length() {
      return done.length().map(l -> CaseLength.of(l, canal.reference()));
    }
  }

  /** The step. */
  abstract CaseStep step();

  /** Refuses a step before anything moves. */
  abstract void allow(CanalHistory history, LengthMethod method, int standoffMicrons)
      throws Exception;

  /** Prints what was found, and gives the entry of the record. */
  abstract CaseEntry entry(Found found, LengthLines lines) throws Exception;

  @Override
  public Integer call() throws Exception {
    PrintWriter screen = out();
    measure.check();
    Range.check("--reference-error-mm", referenceErrorMm, 0, 10, "mm");
    OpenCase open = OpenCase.read(directory, canal, benches);
    CaseCanal where = open.canal();
    String who = operator.of(open.tooth());
    LengthMethod method =
        measure.method(
            where.name(),
            new ReferencePoint(
                where.reference().sentence(),
                where.offsetMicrons(),
                MeasureOptions.microns(referenceErrorMm)));
    try (CaseRecord record = CaseRecord.open(directory)) {
      CanalHistory history = record.history(where.name());
      Plan plan = plan(StepPlan.of(open.tooth(), where, step(), history, 0));
      Plan past = measure.patency ? plan(StepPlan.patency(open.tooth(), where, history)) : plan;
      LengthSession session = new LengthSession(benches, measure, attendant(), screen);
      TrialSpec trial = session.trial(plan);
      allow(history, method, trial.standoffMicrons());
      LengthSession.Done done = session.measure(plan, trial, method, past);
      LengthLines lines = new LengthLines(screen);
      done.length().ifPresent(lines::length);
      CaseEntry entry =
          entry(
              new Found(
                  history,
                  where,
                  open.stamp(who, done.bench(), plan.controller(trial)),
                  StepFile.of(plan.controller(trial).file(trial.stage())),
                  done),
              lines);
      RecordedEntry recorded = record.append(entry);
      screen.println("recorded: " + CaseWords.entry(recorded));
      return entry.verdict().exitCode();
    }
  }

  private Plan plan(StepPlan step) throws Exception {
    return Plan.read(step.source(directory), extensions().policies());
  }

  /** How the record calls what moved the file. */
  CaseEntry.Method movedBy() {
    return measure.handFile ? CaseEntry.Method.HAND : CaseEntry.Method.MOTOR;
  }
}
