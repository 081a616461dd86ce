package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.campaign.BenchMaker;
import org.stopwell.harness.campaign.StopRequest;
import org.stopwell.harness.evidence.BadSentinel;
import org.stopwell.harness.evidence.SentinelWatch;
import org.stopwell.harness.evidence.Service;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.standing.BenchRecords;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.fault.FaultyBench;
import org.stopwell.rig.time.Utc;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Continues a campaign. */
@Command(
    name = "resume",
    description = {
      "Continues a campaign after Ctrl-C, a crash, a full disk or a power cut. Every trial"
          + " counts exactly once: recorded trials are not repeated. A finished campaign gets its"
          + " report and its verdict.",
      "Needs the same build and the same bench. Plan and settings come from the run file.",
      "After a bad sentinel, resume needs --after-service."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell resume runs/first-stop-001",
      "  stopwell resume runs/signed --after-service \"fresh solution, lip clip cleaned\""
    },
    mixinStandardHelpOptions = true)
final class ResumeCommand extends StopwellCommand {
  /** Longest text on a service, characters; assumed: one line. */
  private static final int LONGEST_SERVICE = 300;

  @Parameters(paramLabel = "DIR", description = "Run directory.")
  Path directory = Path.of("");

  @Mixin BoardPorts at = new BoardPorts();

  @Mixin RecordsOption records = new RecordsOption();

  @Mixin PortWait portWait = new PortWait();

  @Mixin AskOption ask = new AskOption();

  @Mixin JobsOption jobs = new JobsOption();

  @Option(
      names = "--after-service",
      paramLabel = "TEXT",
      description =
          "After a bad sentinel: the work done on the bench, in one line. The run file"
              + " keeps it and the report lists it.")
  @Nullable String service;

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    try (RunFile file = RunFile.open(directory)) {
      return resume(file);
    } catch (RunFileException e) {
      if (e.kind() != RunFileException.Kind.FINISHED || service != null) {
        throw e;
      }
    }
    // The power can have failed between the last trial and the report.
    err().println("stopwell: " + directory + " is finished; only the report is made");
    return ReportCommand.make(directory, extensions(), json, out());
  }

  private int resume(RunFile file) throws Exception {
    PrintWriter out = out();
    PrintWriter err = err();
    RunHeader header = file.header();
    if (!header.build().equals(Build.identity())) {
      throw new UsageException(
          directory
              + " was begun with build "
              + header.build()
              + ", this is build "
              + Build.identity()
              + ": resume with the build that began the run");
    }
    Plan plan = ReplayCommand.plan(file, directory, true, extensions());
    BenchOptions benches = BenchOptions.of(header, directory, extensions(), at);
    Connection.fill(benches, file);
    int atOnce = benches.jobs(jobs.asked);
    portWait.checked();
    BenchMaker maker = benches.maker(header.bench().serialNumber());
    List<TrialResult> done = file.results();
    Optional<Service> served = served(file, done);
    Conductor conductor =
        new Conductor(plan, file, directory, out, err, json, portWait, ask, attendant());
    Interruption.watch();
    Bench bench = maker.open();
    try {
      BenchDescription here =
          plan.hasFaults() ? FaultyBench.labelled(bench.describe()) : bench.describe();
      if (!here.equals(header.bench())) {
        throw new UsageException(
            directory + " was begun on " + header.bench() + ", this is " + here);
      }
      Conductor.refuseLacks(plan, bench);
      StopRequest.clear(directory);
      if (served.isPresent()) {
        file.note(Service.KIND, served.get().text());
      }
      file.note("resumed", "at " + Utc.now() + " after " + done.size() + " of " + plan.trials());
      Connection.note(benches, file);
      BenchRecords kept = records.of(bench.describe(), benches.at.station);
      return conductor.conduct(bench, maker, atOnce, done, kept);
    } finally {
      bench.close();
    }
  }

  /** The text on the service after a bad sentinel; without it such a campaign cannot resume. */
  private Optional<Service> served(RunFile file, List<TrialResult> done) throws Exception {
    Optional<BadSentinel> bad = SentinelWatch.waiting(file.header().protocol(), done, file.notes());
    if (service == null) {
      if (bad.isPresent()) {
        throw new UsageException(
            directory
                + " stopped at a bad sentinel. "
                + Conductor.seeTo(bad.get())
                + " Then continue with: stopwell resume "
                + directory
                + " --after-service \"what was done\"");
      }
      return Optional.empty();
    }
    if (bad.isEmpty()) {
      throw new UsageException(
          "--after-service: "
              + directory
              + " does not wait at a bad sentinel; leave out --after-service");
    }
    String what = service.strip();
    if (!(what.length() >= 1 && what.length() <= LONGEST_SERVICE) || what.contains("\n")) {
      throw new UsageException(
          "--after-service: one line of 1 to "
              + LONGEST_SERVICE
              + " characters, this has "
              + what.length());
    }
    return Optional.of(new Service(bad.get().trial().index(), Utc.now(), what));
  }
}
