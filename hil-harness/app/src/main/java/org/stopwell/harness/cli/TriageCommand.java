package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.campaign.BenchMaker;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.Unblinding;
import org.stopwell.harness.replay.Triage;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

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
final class TriageCommand implements Callable<Integer> {
  static final String NAME = "triage.json";

  @Parameters(paramLabel = "DIR", description = "Run directory.")
  Path directory = Path.of("");

  @Option(
      names = "--times",
      paramLabel = "N",
      description = "Repetitions of each trial. Default: ${DEFAULT-VALUE}.",
      defaultValue = "3")
  int times = 3;

  @Option(names = "--port", paramLabel = "PORT", description = "Serial port of the board.")
  @Nullable String port;

  @Option(
      names = "--drive-port",
      paramLabel = "PORT",
      description = "Serial port of the drive board, for a run on two boards.")
  @Nullable String drivePort;

  @Option(
      names = "--station",
      paramLabel = "FILE",
      description = "Station file, for a run on the pins of a Raspberry Pi.")
  @Nullable Path station;

  @Option(names = "--json", description = "Print the result as JSON.")
  boolean json;

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = Objects.requireNonNull(spec).commandLine().getOut();
    PrintWriter err = spec.commandLine().getErr();
    if (!(times >= 1 && times <= 1000)) {
      throw new UsageException("--times " + times + " is outside 1 to 1000");
    }
    try (RunFile run = RunFile.load(directory)) {
      Plan plan = ReplayCommand.plan(run);
      boolean unblinded = Unblinding.isDone(directory);
      List<TrialResult> open =
          Evidence.named(run.header(), run.results(), unblinded).stream()
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
          BenchOptions.of(run.header(), directory, port, drivePort, station)
              .maker(run.header().bench().serialNumber());
      List<Triage> findings = open.isEmpty() ? List.of() : again(plan, open, maker);
      String text = json(findings);
      Files.writeString(directory.resolve(NAME), text + "\n");
      if (json) {
        out.println(text);
      } else {
        print(out, run.results().size(), findings);
      }
      return code(findings);
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

  private static int code(List<Triage> findings) {
    if (has(findings, Triage.Finding.SAME) || has(findings, Triage.Finding.ALIKE)) {
      return Verdict.FAIL.exitCode();
    }
    if (has(findings, Triage.Finding.FLAKY)) {
      return Verdict.UNDECIDED.exitCode();
    }
    return findings.isEmpty() ? 0 : Verdict.RIG_FAULT.exitCode();
  }

  private static boolean has(List<Triage> findings, Triage.Finding finding) {
    return findings.stream().anyMatch(t -> t.finding() == finding);
  }

  private void print(PrintWriter out, int trials, List<Triage> findings) {
    out.println(
        findings.size()
            + " of "
            + trials
            + " trials did not pass; each was repeated "
            + times
            + (times == 1 ? " time" : " times")
            + " again");
    for (Triage.Finding finding : Triage.Finding.values()) {
      long n = findings.stream().filter(t -> t.finding() == finding).count();
      if (n > 0) {
        out.println(n + " " + finding + ": " + finding.text());
      }
    }
    for (Triage t : findings) {
      out.println(
          "  trial "
              + (t.recorded().index() + 1)
              + ", "
              + t.recorded().condition()
              + ": "
              + t.recorded().code()
              + "; again "
              + String.join(", ", t.again().stream().map(TrialResult::code).toList())
              + " ("
              + t.finding()
              + ")");
    }
  }

  private String json(List<Triage> findings) throws java.io.IOException {
    List<Map<String, Object>> list = new ArrayList<>();
    for (Triage t : findings) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("trial", t.recorded().index() + 1);
      one.put("condition", t.recorded().condition());
      one.put("seed", t.recorded().seed());
      one.put("recorded", t.recorded().verdict().name());
      one.put("code", t.recorded().code());
      one.put("again", t.again().stream().map(TrialResult::code).toList());
      one.put("finding", t.finding().name());
      one.put("meaning", t.finding().text());
      list.add(one);
    }
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("build", Build.identity());
    all.put("times", times);
    all.put("trials", list);
    return Json.text(all);
  }
}
