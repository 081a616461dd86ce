package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.campaign.BenchMaker;
import org.stopwell.harness.campaign.StopRequest;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.standing.BenchStanding;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.fault.FaultyBench;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Goes on with a campaign. */
@Command(
    name = "resume",
    description = {
      "Goes on with a campaign after Ctrl-C, a crash, a full disk or a power cut. Every trial counts"
          + " exactly once: what the run file holds is not run again.",
      "The same build and the same bench are needed; plan and settings come from the run file."
    },
    footer = {"", "Example:", "  stopwell resume runs/first-stop-001"},
    mixinStandardHelpOptions = true)
final class ResumeCommand implements Callable<Integer> {
  @Parameters(paramLabel = "DIR", description = "Run directory.")
  Path directory = Path.of("");

  @Option(names = "--port", paramLabel = "PORT", description = "Serial port of the board.")
  @Nullable String port;

  @Option(
      names = "--drive-port",
      paramLabel = "PORT",
      description = "Serial port of the drive board, when there were two boards.")
  @Nullable String drivePort;

  @Option(
      names = "--station",
      paramLabel = "FILE",
      description = "Station file, when the run was begun on the pins of a Raspberry Pi.")
  @Nullable Path station;

  @Mixin RecordsOption records = new RecordsOption();

  @Option(
      names = "--jobs",
      paramLabel = "N",
      description = "Trials at once; as many as there are processors unless told.")
  @Nullable Integer jobs;

  @Option(names = "--json", description = "Print the result as JSON.")
  boolean json;

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = Objects.requireNonNull(spec).commandLine().getOut();
    PrintWriter err = spec.commandLine().getErr();
    try (RunFile file = RunFile.open(directory)) {
      RunHeader header = file.header();
      if (!header.build().equals(Build.identity())) {
        throw new UsageException(
            directory
                + " was begun with build "
                + header.build()
                + ", this is build "
                + Build.identity()
                + ": the results would not belong together");
      }
      Plan plan = ReplayCommand.plan(file);
      BenchOptions benches = BenchOptions.of(header, directory, port, drivePort, station);
      int atOnce = benches.jobs(jobs);
      BenchMaker maker = benches.maker(header.bench().serialNumber());
      List<TrialResult> done = file.results();
      Interruption.watch();
      Bench bench = maker.open();
      try {
        BenchDescription here =
            plan.hasFaults() ? FaultyBench.labelled(bench.describe()) : bench.describe();
        if (!here.equals(header.bench())) {
          throw new UsageException(
              directory + " was begun on " + header.bench() + ", this is " + here);
        }
        StopRequest.clear(directory);
        file.note(
            "resumed", "at " + Clock.now() + " after " + done.size() + " of " + plan.trials());
        BenchRecords kept = records.of(bench.describe(), station);
        BenchStanding standing = kept.standing(plan, Clock.today());
        if (!bench.describe().simulated() || records.directory != null) {
          kept.note(file, standing);
        }
        return new Conductor(plan, file, directory, out, err, json)
            .conduct(bench, maker, atOnce, done, standing);
      } finally {
        bench.close();
      }
    }
  }
}
