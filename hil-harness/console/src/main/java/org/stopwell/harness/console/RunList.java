package org.stopwell.harness.console;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.stopwell.harness.campaign.StopRequest;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.evidence.SentinelWatch;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.report.ClaimWords;
import org.stopwell.harness.report.RunReport;
import org.stopwell.harness.trial.TrialResult;

/** The runs below one directory, as the console shows them. */
final class RunList {
  private final Path directory;

  RunList(Path directory) {
    this.directory = directory;
  }

  /** The run directory of that name, if there is one: never anything outside of the list. */
  Optional<Path> find(String name) throws IOException {
    return directories().stream().filter(d -> name(d).equals(name)).findFirst();
  }

  /** Every run directory. */
  List<Path> directories() throws IOException {
    if (!Files.isDirectory(directory)) {
      return List.of();
    }
    try (Stream<Path> children = Files.list(directory)) {
      return children.filter(d -> Files.exists(d.resolve(RunFile.NAME))).sorted().toList();
    }
  }

  private static String name(Path run) {
    return String.valueOf(run.getFileName());
  }

  /** When the run file last took something: a cut campaign cannot say that it is gone. */
  private static String written(Path run) throws IOException {
    FileTime newest = Files.getLastModifiedTime(run.resolve(RunFile.NAME));
    Path ahead = run.resolve(RunFile.NAME + "-wal");
    if (Files.exists(ahead)) {
      FileTime there = Files.getLastModifiedTime(ahead);
      newest = there.compareTo(newest) > 0 ? there : newest;
    }
    return newest.toInstant().truncatedTo(ChronoUnit.SECONDS).toString();
  }

  /**
   * The trials of which every stretch with a hidden known-answer trial is complete: while a
   * campaign runs, no count may tell which trial it is.
   */
  private static List<TrialResult> wholeStretches(List<TrialResult> results, SentinelRule rule) {
    int stretch = rule.every() + 1;
    int whole = results.size() / stretch * stretch;
    return results.stream().filter(r -> r.index() < whole).toList();
  }

  /** Everything about one run. */
  private static String bench(RunHeader header) {
    return header.origin().imported()
        ? header.label()
        : header.bench().kind() + (header.bench().simulated() ? ", simulated" : "");
  }

  Map<String, Object> read(Path run) {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("name", name(run));
    try (RunFile file = RunFile.load(run)) {
      RunHeader header = file.header();
      List<TrialResult> results = file.results();
      boolean finished = file.finishedAt().isPresent();
      Optional<SentinelRule> hidden = header.protocol().sentinels().filter(s -> !finished);
      CampaignSummary summary =
          hidden.isPresent()
              ? Evidence.of(header, wholeStretches(results, hidden.get())).summary()
              : Evidence.of(file, run).summary();
      all.put("plan", header.planName());
      all.put("bench", bench(header));
      all.put("started", header.startedAt());
      int planned = summary.planned();
      all.put("planned", planned + hidden.map(s -> s.count(planned)).orElse(0));
      all.put("run", hidden.isPresent() ? results.size() : summary.run());
      all.put("finished", finished);
      all.put("stop_requested", !finished && StopRequest.isMade(run));
      if (!finished) {
        all.put("written", written(run));
        all.put("resume", "stopwell resume " + run);
        SentinelWatch.waiting(header.protocol(), results, file.notes())
            .ifPresent(bad -> all.put("waiting", bad.sentence()));
      }
      all.put("verdict", finished ? summary.verdict().name() : "");
      all.put("meaning", finished ? ClaimWords.meaning(summary) : "");
      all.put("report", Files.exists(run.resolve(RunReport.PAGE)));
      List<Map<String, Object>> conditions = new ArrayList<>();
      for (ConditionSummary c : summary.conditions()) {
        Map<String, Object> one = new LinkedHashMap<>();
        one.put("name", c.condition().name());
        one.put("planned", c.condition().plannedTrials());
        one.put("run", c.run());
        one.put("passed", c.passed());
        one.put("failed", c.failed());
        one.put("rig_faults", c.rigFaults().values().stream().mapToInt(i -> i).sum());
        conditions.add(one);
      }
      all.put("conditions", conditions);
    } catch (IOException e) {
      all.put("problem", String.valueOf(e.getMessage()));
    }
    return all;
  }
}
