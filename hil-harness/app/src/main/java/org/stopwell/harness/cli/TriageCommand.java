package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.stopwell.harness.campaign.BenchMaker;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.ConditionNames;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.replay.Triage;
import org.stopwell.harness.replay.TriageSummary;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Repeats the trials that did not pass, to classify their cause. */
@Command(
    name = "triage",
    description = {
      "Repeats every trial of a run that did not pass, with its own seed and on the same"
          + " kind of bench, and classifies its cause: the controller, the rig, or not"
          + " reproducible.",
      "The run is not changed: a repetition never replaces a first result. Findings are"
          + " printed and written to "
          + TriageCommand.NAME
          + " in the run directory.",
      "Exit codes: 0 nothing to examine; 1 the controller repeats the failure; 3 only the"
          + " rig failed; 5 a result is not reproducible."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell triage runs/first-stop-001",
      "  stopwell triage runs/night-007 --times 10 --port /dev/ttyUSB0"
    },
    mixinStandardHelpOptions = true)
final class TriageCommand extends StopwellCommand {
  static final String NAME = "triage.json";

  @Parameters(paramLabel = "DIR", description = "Run directory.")
  Path directory = Path.of("");

  @Option(
      names = "--times",
      paramLabel = "N",
      description = "Repetitions of each trial. Default: ${DEFAULT-VALUE}.",
      defaultValue = "3")
  int times = 3;

  @Mixin BoardPorts at = new BoardPorts();

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    PrintWriter err = err();
    Range.check("--times", times, 1, 1000);
    try (RunFile run = RunFile.load(directory)) {
      Plan plan = ReplayCommand.plan(run, directory, false, extensions());
      ConditionNames names = ConditionNames.shown(run.header(), directory);
      List<TrialResult> open =
          run.results().stream()
              .filter(t -> t.verdict() != Verdict.PASS && t.verdict() != Verdict.SAFETY_STOP)
              .toList();
      if (!run.header().build().equals(Build.identity())) {
        err.println(
            "stopwell: recorded with build "
                + run.header().build()
                + ", this is build "
                + Build.identity()
                + ": a different result can come from the build");
      }
      BenchMaker maker =
          BenchOptions.of(run.header(), directory, extensions(), at)
              .maker(run.header().bench().serialNumber());
      List<Triage> findings =
          (open.isEmpty() ? List.<Triage>of() : again(plan, open, maker))
              .stream()
                  .map(t -> new Triage(names.of(t.recorded()), t.again(), t.finding()))
                  .toList();
      TriageSummary summary =
          new TriageSummary(Build.identity(), times, run.results().size(), findings);
      Files.writeString(directory.resolve(NAME), Json.text(summary.values()) + "\n");
      json.print(out(), summary.values(), summary::print);
      return summary.verdict().exitCode();
    }
  }

  private List<Triage> again(Plan plan, List<TrialResult> open, BenchMaker maker) throws Exception {
    Interruption.watch();
    List<Triage> findings = new ArrayList<>();
    try (Progress progress = Progress.of(open.size(), 0)) {
      for (TrialResult trial : open) {
        // A new bench for each trial: what one broke does not spoil the next.
        try (Bench bench = maker.open()) {
          Optional<Triage> found = Triage.of(plan, trial, bench, times, Interruption::requested);
          if (found.isEmpty()) {
            break;
          }
          findings.add(found.get());
        }
        progress.add(1);
      }
    }
    return findings;
  }
}
