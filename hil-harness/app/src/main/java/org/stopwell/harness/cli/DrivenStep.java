package org.stopwell.harness.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.casework.CaseEntry;
import org.stopwell.harness.casework.CaseEntry.Opened;
import org.stopwell.harness.casework.CaseEntry.Shaped;
import org.stopwell.harness.casework.CaseStamp;
import org.stopwell.harness.casework.CaseWords;
import org.stopwell.harness.casework.StepFile;
import org.stopwell.harness.casework.StepPlan;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.time.Pace;

/**
 * A step of a case that drives a file to a depth limit, as it ended. Depths count from the
 * reference point.
 *
 * @param spec what was done
 * @param told the settings of the controller
 * @param bench where it was done
 * @param result how it ended
 * @param offsetMicrons from the reference point to the orifice, µm
 */
record DrivenStep(
    TrialSpec spec,
    ControllerSettings told,
    BenchDescription bench,
    TrialResult result,
    int offsetMicrons) {

  /** Runs the plan of a step on a bench; empty when the operator interrupted it. */
  static Optional<DrivenStep> run(
      StepPlan step, Path directory, OpenCase open, Extensions extensions, BenchOptions benches)
      throws PlanException, UsageException, BenchException {
    Plan plan = Plan.read(step.source(directory), extensions.policies());
    TrialSpec spec = plan.trial(0);
    ControllerSettings told = plan.controller(spec);
    Interruption.watch();
    try (Bench bench = benches.maker().open()) {
      BenchDescription description = bench.describe();
      return new TrialRunner(bench, told, plan.policies())
          .run(
              spec,
              null,
              () ->
                  description.lockstep()
                      ? Pace.lockstep(description.periodNs())
                      : Pace.realTime(description.periodNs()),
              Interruption::requested)
          .map(
              result ->
                  new DrivenStep(spec, told, description, result, open.canal().offsetMicrons()));
    }
  }

  Verdict verdict() {
    return result.verdict();
  }

  StepFile file() {
    return StepFile.of(told.file(spec.stage()));
  }

  private String motion() {
    return told.stage(spec.stage()).choice(StageParameters.MOTION);
  }

  private int limitMicrons() {
    return spec.depthLimitMicrons() + offsetMicrons;
  }

  private int deepestMicrons() {
    return limitMicrons() + result.depth().overrunMicrons();
  }

  private int restMicrons() {
    return result.rested() ? result.depth().depthMicrons() + offsetMicrons : deepestMicrons();
  }

  /** The entry of an opening. */
  CaseEntry opened(CaseStamp stamp) {
    return new Opened(
        stamp,
        file(),
        motion(),
        limitMicrons(),
        restMicrons(),
        deepestMicrons(),
        spec.torqueLimitMicroNewtonMetres(),
        result.depth().torqueMicroNewtonMetres(),
        verdict(),
        reason());
  }

  /** The entry of a shaping. */
  CaseEntry shaped(CaseStamp stamp, int lengthEntry) {
    return new Shaped(
        stamp,
        file(),
        motion(),
        lengthEntry,
        limitMicrons(),
        restMicrons(),
        deepestMicrons(),
        spec.torqueLimitMicroNewtonMetres(),
        result.depth().torqueMicroNewtonMetres(),
        verdict(),
        reason());
  }

  private String reason() {
    return verdict() == Verdict.PASS ? "" : result.message();
  }

  /** What people read. */
  List<String> lines(StepPlan step, OpenCase open) {
    List<String> lines = new ArrayList<>();
    ParameterValues stage = told.stage(spec.stage());
    lines.add(
        String.format(
            Locale.ROOT,
            "tooth %d, canal %s: %s with %s, %s%s",
            open.tooth().tooth(),
            step.canal(),
            step.step().word(),
            file().human(),
            motion(),
            bench.simulated() ? ", simulated" : ""));
    if (stage.choice(StageParameters.APICAL).equals(StageParameters.NONE)) {
      lines.add(
          "The apical reaction is off by intent: the canal is filled to the orifice, where no reading"
              + " is valid. The depth axis stops the file.");
    }
    String point = open.canal().reference().sentence();
    lines.add("depth limit     " + CaseWords.mm(limitMicrons()) + " from the " + point);
    lines.add(
        "depth reached   "
            + CaseWords.mm(deepestMicrons())
            + (result.rested() ? ", rests at " + CaseWords.mm(restMicrons()) : ""));
    lines.add(
        "overrun         "
            + CaseWords.mm(Math.max(0, result.depth().overrunMicrons()))
            + ", "
            + CaseWords.mm(spec.toleranceMicrons())
            + " is allowed");
    lines.add(
        String.format(
            Locale.ROOT,
            "torque          %.2f N·cm of %.2f N·cm; torque reactions: %d",
            result.depth().torqueMicroNewtonMetres() / 1e4,
            spec.torqueLimitMicroNewtonMetres() / 1e4,
            result.depth().torqueReactions()));
    lines.add(verdict() + ": " + result.message());
    return lines;
  }

  /** What programs read beside the entry. */
  Map<String, Object> values() {
    Map<String, Object> values = new LinkedHashMap<>();
    values.put("overrun_um", result.depth().overrunMicrons());
    values.put("torque_reactions", result.depth().torqueReactions());
    values.put("code", result.code());
    values.put("message", result.message());
    return values;
  }
}
