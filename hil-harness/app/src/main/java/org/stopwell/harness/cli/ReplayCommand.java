package org.stopwell.harness.cli;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.console.RefusedException;
import org.stopwell.harness.console.TrialView;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.input.InputFile;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.record.ConditionNames;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.replay.CampaignReplay;
import org.stopwell.harness.replay.CsvReplay;
import org.stopwell.harness.replay.RecordedPlan;
import org.stopwell.harness.replay.Resimulation;
import org.stopwell.harness.replay.ResultCheck;
import org.stopwell.harness.replay.RunReplay;
import org.stopwell.harness.replay.StepComparison;
import org.stopwell.harness.replay.WatchedReplay;
import org.stopwell.harness.report.Place;
import org.stopwell.harness.report.TraceScorePage;
import org.stopwell.harness.report.TraceScoreReport;
import org.stopwell.harness.trace.CsvTrace;
import org.stopwell.harness.trace.TraceDirectory;
import org.stopwell.harness.trace.TraceScore;
import org.stopwell.harness.trace.TraceScoreFile;
import org.stopwell.harness.trace.TraceScorer;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Feeds recordings through the controller. */
@Command(
    name = "replay",
    description = {
      "Feeds a recorded trial or a CSV trace through the controller.",
      "",
      "With a run directory: compares the state hash of every step of every trial, or of"
          + " one trial, with the recording. Prints identical, or the first millisecond that"
          + " differs and by how many micrometres. Sentinels, excluded and spoiled trials are"
          + " included and marked. On the virtual bench, a trial that differs is simulated to its"
          + " new end. On a physical bench the recording ends at the first difference.",
      "With the recorded settings it also computes every result again and compares it with the"
          + " recorded one: distance at rest, stop error, deepest point, verdict and code. The"
          + " virtual bench simulates the trial; on a physical bench the results follow from the"
          + " recorded truth, which is not checked. Exit codes: 0 identical, 1 different.",
      "With a run of devices (controller: external): computes recovery, attribution and verdict of"
          + " every trial again from the recorded samples and names each value that differs.",
      "With a CSV trace: prints what the controller does. Columns: t_ms; z<HZ>hz_re_ohm and"
          + " z<HZ>hz_im_ohm per frequency, or distance_mm (a number or no_contact); optional"
          + " speed_rpm, torque_ncm, demand (0 or 1), true_remaining_mm. A row without a position"
          + " has no new sample. Without speed_rpm the motor is assumed to turn at the commanded"
          + " speed. Between two rows the controller is stepped every millisecond. Without demand"
          + " the operator presses as the trace begins.",
      "With a directory of CSV traces that have true_remaining_mm: scores each trace. manifest.csv"
          + " with the columns file,tooth,fluid names tooth and fluid; without it the tooth is the"
          + " file name up to the first _. Prints, by fluid: stopped, within the tolerance, past the"
          + " foramen, refused, SURE, sure and wrong, and how often the stated bound covers the"
          + " error, with exact intervals that count teeth. A trace does not stop, so the file rests"
          + " at the true distance at the decision less the coast.",
    },
    footer = {
      "",
      "Examples:",
      "  stopwell replay runs/first-stop-001",
      "  stopwell replay runs/first-stop-001 --trial 17",
      "  stopwell replay runs/first-stop-001 --trial 17 --settings new.yaml --page trial-17.html",
      "  stopwell replay trace.csv --settings docs/settings/reference-canal.yaml --out result.csv",
      "  stopwell replay teeth --settings docs/settings/length.yaml --page scores.html",
      "  stopwell replay teeth --settings mine.yaml --json --out scores.csv"
    },
    mixinStandardHelpOptions = true)
final class ReplayCommand extends StopwellCommand {
  @Parameters(
      paramLabel = "FILE",
      description = "A CSV trace, a directory of CSV traces, or a run directory.")
  Path file = Path.of("");

  @Option(
      names = "--settings",
      paramLabel = "S",
      description = "Settings of the controller. Default for a run directory: its own settings.")
  @Nullable Path settingsFile;

  @Option(
      names = "--stage",
      paramLabel = "STAGE",
      description = "Stage of work for a CSV trace: open, length, shape or recheck.",
      defaultValue = "length")
  Stage stage = Stage.LENGTH;

  @Option(
      names = "--trial",
      paramLabel = "N",
      description =
          "Trial of a run directory, counted from 1 as in the report. Default: all trials.")
  @Nullable Integer trial;

  @Mixin JobsOption jobs = new JobsOption();

  @Mixin JsonOption json = new JsonOption();

  @Option(
      names = "--other-core",
      description =
          "Replay a run that was recorded with another core: shows what this core would have done.")
  boolean otherCore;

  @Option(
      names = "--out",
      paramLabel = "CSV",
      description =
          "Write the CSV trace with the outputs of the controller added; for a directory of"
              + " traces: the score of each trace.")
  @Nullable Path out;

  @Option(
      names = "--page",
      paramLabel = "HTML",
      description =
          "Write a page. With --trial: its trace, its error chain and why the file stopped, with the"
              + " course under --settings drawn over it. With a directory of CSV traces: tables and"
              + " pictures of the scores.")
  @Nullable Path page;

  @Option(
      names = "--coast-mm",
      paramLabel = "MM",
      description =
          "Travel from the decision to rest in traces of a directory, in mm. Default: what the file"
              + " travels in the trace within reaction_ms of the settings.")
  @Nullable Double coastMm;

  @Override
  public Integer call() throws Exception {
    PrintWriter screen = out();
    if (isOfTraces(file)) {
      return scored(screen);
    }
    if (coastMm != null) {
      throw new UsageException("--coast-mm goes with a directory of CSV traces");
    }
    if (page != null && trial == null) {
      throw new UsageException("--page goes with a directory of CSV traces, or with --trial");
    }
    return Files.isDirectory(file) ? recorded(screen) : csv(screen);
  }

  /** A directory with a run file is a run; any other with CSV files is one of traces. */
  private static boolean isOfTraces(Path file) {
    return Files.isDirectory(file)
        && !Files.exists(file.resolve(RunFile.NAME))
        && TraceDirectory.hasTraces(file);
  }

  private int scored(PrintWriter screen) throws Exception {
    Settings settings = settings("a directory of CSV traces");
    if (settings.controller().stage(stage).choice(StageParameters.APICAL).equals("none")) {
      throw new UsageException(
          "--stage " + word() + ": does not stop at the standoff (apical: none)");
    }
    int coastMicrons = TraceScorer.COAST_OF_SETTINGS;
    if (coastMm != null) {
      if (!(coastMm >= 0 && coastMm <= 5)) {
        throw new UsageException("--coast-mm " + coastMm + ", must be 0 to 5 mm");
      }
      coastMicrons = (int) Math.rint(1000 * coastMm);
    }
    TraceDirectory traces = TraceDirectory.read(file);
    TraceScorer scorer = new TraceScorer(settings, stage, coastMicrons);
    List<TraceScore> scores;
    try (Progress progress = Progress.of("traces", traces.approaches().size(), 0)) {
      scores = scorer.score(traces, new BenchOptions().jobs(jobs.asked), done -> progress.add(1));
    }
    TraceScoreReport report =
        TraceScoreReport.of(settings.source().name(), word(), scorer, traces, scores);
    if (out != null) {
      TextFile.write("--out", out, writer -> TraceScoreFile.write(scores, writer));
    }
    if (page != null) {
      TextFile.write("--page", page, writer -> writer.write(TraceScorePage.of(report)));
    }
    json.print(screen, report.values(), report::print);
    return 0;
  }

  private String word() {
    return stage.name().toLowerCase(Locale.ROOT);
  }

  /** The settings for traces, which bring none of their own. */
  private Settings settings(String what) throws UsageException, PlanException {
    if (settingsFile == null) {
      throw new UsageException(what + " needs --settings");
    }
    if (trial != null) {
      throw new UsageException("--trial goes with a run directory");
    }
    Settings settings = Settings.read(Source.of(settingsFile), extensions().policies());
    if (!settings.controller().has(stage)) {
      throw new UsageException("--stage " + word() + ": not described in " + settingsFile);
    }
    return settings;
  }

  private int csv(PrintWriter screen) throws Exception {
    Settings settings = settings("a CSV trace");
    CsvReplay replay = new CsvReplay(CsvTrace.read(file), settings, stage);
    List<String> events;
    if (out == null) {
      events = replay.run(Writer.nullWriter());
    } else {
      events = written(replay, out);
    }
    events.forEach(screen::println);
    if (events.isEmpty()) {
      screen.println("The controller stayed PARKED for the whole trace.");
    }
    return 0;
  }

  /** Writes beside the trace that is read, and then in its place, where both are one file. */
  private List<String> written(CsvReplay replay, Path target) throws UsageException {
    try {
      boolean same = Files.exists(target) && Files.isSameFile(file, target);
      Path to = same ? target.resolveSibling(target.getFileName() + ".new") : target;
      List<String> events;
      try (BufferedWriter writer = Files.newBufferedWriter(to, StandardCharsets.UTF_8)) {
        events = replay.run(writer);
      }
      if (same) {
        Files.move(to, target, StandardCopyOption.REPLACE_EXISTING);
      }
      return events;
    } catch (IOException e) {
      throw new UsageException("--out " + target + ": cannot be written: " + InputFile.reason(e));
    }
  }

  private int recorded(PrintWriter screen) throws Exception {
    if (out != null) {
      throw new UsageException("--out goes with a CSV trace");
    }
    try (RunFile run = RunFile.load(file)) {
      ConditionNames names = ConditionNames.shown(run.header(), file);
      if (names.isCoded()) {
        throw new UsageException(
            file
                + ": the run is blinded, and a replay shows which code stands for which level. Judge"
                + " exclusions and verdict first, then: stopwell unblind "
                + file);
      }
      extensions().require(run, file, false);
      Plan plan = RecordedPlan.of(run, file, extensions().policies());
      if (plan.isExternal()) {
        return watched(run, names, plan, screen);
      }
      checkCore(run.header().build());
      checkWeights(run.header(), screen);
      Plan other =
          settingsFile == null
              ? plan
              : Plan.read(
                      plan.source(), plan.settingsWith(Source.of(settingsFile)), plan.policies())
                  .with(plan.head().seed(), plan.head().trials());
      if (trial == null) {
        return whole(run, names, plan, other, screen);
      }
      Range.check("--trial", trial, 1, plan.trials());
      if (page != null) {
        writePage(page, trial);
      }
      int index = trial - 1;
      Optional<byte[]> stored = run.readableTrace(index);
      byte[] trace = stored.isPresent() ? stored.get() : Resimulation.of(run, plan, index).trace();
      screen.println(
          "trial "
              + trial
              + (stored.isPresent() ? ", recorded" : ", simulated again from its seed"));
      StepComparison comparison =
          StepComparison.of(trace, other.controller(other.trial(index)), other.policies());
      ComparedSteps.print(comparison, screen);
      boolean equal = comparison.identical();
      for (TrialResult recorded : names.of(run.results())) {
        if (recorded.index() == index) {
          screen.println(
              "recorded: "
                  + recorded.verdict()
                  + " "
                  + recorded.code()
                  + ", state hash "
                  + String.format(Locale.ROOT, "%016x", recorded.stateHash()));
          if (equal && other == plan) {
            equal = resultStands(run, plan, recorded, trace, screen);
          }
        }
      }
      return equal ? 0 : 1;
    }
  }

  /** A run of devices: what was done follows from the samples that are kept, and the plan. */
  private int watched(RunFile run, ConditionNames names, Plan plan, PrintWriter screen)
      throws Exception {
    if (settingsFile != null || page != null || otherCore) {
      throw new UsageException(
          file
              + ": a device was watched and no controller ran; --settings, --page and --other-core"
              + " do not apply");
    }
    List<TrialResult> results = names.of(run.results());
    if (trial != null) {
      Range.check("--trial", trial, 1, plan.trials());
      results = results.stream().filter(r -> r.index() == trial - 1).toList();
    }
    WatchedReplay replay;
    try (Progress progress = Progress.of(results.size(), 0)) {
      replay = WatchedReplay.of(run, plan, results, done -> progress.add(1));
    }
    List<String> altered = altered(run, names, plan);
    Map<String, Object> values = new LinkedHashMap<>(replay.values());
    values.put("not_of_the_plan", altered);
    json.print(
        screen,
        values,
        lines -> {
          replay.print(lines);
          altered.forEach(part -> lines.accept(ofAnotherPlan(part)));
        });
    return replay.equal() && altered.isEmpty() ? 0 : 1;
  }

  private static String ofAnotherPlan(String part) {
    return "the " + part + " in the run file are not those of its plan";
  }

  private void writePage(Path target, int number) throws Exception {
    Optional<Source> other =
        settingsFile == null ? Optional.empty() : Optional.of(Source.of(settingsFile));
    try {
      String html = new TrialView(file, extensions().policies()).page(number, other, Place.NONE);
      TextFile.write("--page", target, writer -> writer.write(html));
    } catch (RefusedException e) {
      throw new UsageException(String.valueOf(e.getMessage()));
    }
  }

  /** Compares the recorded result of one trial with the one that is computed again. */
  private static boolean resultStands(
      RunFile run, Plan plan, TrialResult recorded, byte[] trace, PrintWriter screen) {
    CampaignReplay campaign = new CampaignReplay(plan, plan, run.header().bench());
    Optional<ResultCheck> result = campaign.check(recorded, trace);
    boolean stands = result.map(r -> r.differences().isEmpty()).orElse(true);
    result.ifPresent(
        r ->
            screen.println(
                (campaign.simulates()
                        ? "result, simulated again: "
                        : "result, judged again from the recorded truth: ")
                    + (stands ? "equal" : RunReplay.words(r))));
    if (result.isPresent() && !campaign.simulates()) {
      screen.println(RunReplay.NOT_CHECKED);
    }
    return stands;
  }

  /** What another core makes of a recording is a question of its own, and asked by name. */
  private void checkCore(String build) throws UsageException {
    if (!otherCore && !Build.core(build).equals(Build.core(Build.identity()))) {
      throw new UsageException(
          file
              + " was recorded with core "
              + Build.core(build)
              + ", this program has core "
              + Build.core(Build.identity())
              + "; add --other-core to see what this core would have done");
    }
  }

  /** Other weights are as another core. */
  private void checkWeights(RunHeader header, PrintWriter screen) throws UsageException {
    List<String> differences = RunWeights.differences(header);
    if (!otherCore && !differences.isEmpty()) {
      throw new UsageException(
          file
              + ": "
              + String.join("; ", differences)
              + "; add --other-core to see what these would have done");
    }
    differences.forEach(screen::println);
  }

  /** Every trial of a run, paired with its replay. */
  private int whole(RunFile run, ConditionNames names, Plan plan, Plan other, PrintWriter screen)
      throws Exception {
    int atOnce = new BenchOptions().jobs(jobs.asked);
    RunReplay replay;
    try (Progress progress = Progress.of(run.results().size(), 0)) {
      CampaignReplay campaign = new CampaignReplay(plan, other, run.header().bench());
      replay =
          new RunReplay(
              campaign.run(run, names.of(run.results()), atOnce, done -> progress.add(1)),
              run.results().size(),
              campaign.simulates(),
              excluded(run, file),
              UnaryOperator.identity());
    }
    List<String> altered = other == plan ? altered(run, names, plan) : List.of();
    Map<String, Object> values = new LinkedHashMap<>(replay.values());
    values.put("not_of_the_plan", altered);
    json.print(
        screen,
        values,
        lines -> {
          replay.print(lines);
          altered.forEach(part -> lines.accept(ofAnotherPlan(part)));
        });
    return replay.identical() && altered.isEmpty() ? 0 : 1;
  }

  /**
   * The parts of the header that the recorded text of the plan does not give. An older file may
   * hold them by the words of its time.
   */
  private static List<String> altered(RunFile run, ConditionNames names, Plan plan)
      throws RunFileException {
    List<String> parts = new ArrayList<>();
    RunHeader header = names.of(run.header());
    if (run.uncovered().isEmpty()) {
      // A blinded run file lists conditions by code: the order of the plan would name the levels.
      if (!Set.copyOf(header.conditions()).equals(Set.copyOf(plan.conditions()))) {
        parts.add("conditions");
      }
      if (!sorted(header.claims()).equals(sorted(plan.claims()))) {
        parts.add("claims");
      }
    }
    return parts;
  }

  private static List<Claim> sorted(List<Claim> claims) {
    return claims.stream().map(c -> c.over(c.conditions().stream().sorted().toList())).toList();
  }

  /** Trials that the evidence of the run excludes, by index, with the rule or the rig fault. */
  private static Map<Integer, String> excluded(RunFile run, Path directory) throws Exception {
    return Evidence.of(run, directory).trials().stream()
        .filter(t -> t.verdict() == Verdict.RIG_FAULT)
        .collect(Collectors.toMap(TrialResult::index, TrialResult::code));
  }

  /**
   * The plan of a run as it was recorded; the extensions that it uses must be there.
   *
   * @param same whether they must be the very same, and not another build
   */
  static Plan plan(RunFile run, Path directory, boolean same, Extensions extensions)
      throws PlanException, UsageException, RunFileException {
    extensions.require(run, directory, same);
    Plan plan = RecordedPlan.of(run, directory, extensions.policies());
    if (!same && plan.isExternal()) {
      throw new UsageException(
          directory
              + ": a device was watched and no controller ran. replay, report, verify, compare,"
              + " export --to csv and sign work on it");
    }
    return plan;
  }
}
