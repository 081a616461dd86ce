package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.campaign.BenchMaker;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.protocol.BlindKey;
import org.stopwell.harness.protocol.Blinding;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.record.BlindKeyFile;
import org.stopwell.harness.record.FreeDirectory;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.standing.BenchRecords;
import org.stopwell.harness.standing.Freezing;
import org.stopwell.harness.standing.Ledger;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.fault.FaultyBench;
import org.stopwell.rig.time.Utc;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Runs a campaign. */
@Command(
    name = "run",
    description = "Runs a campaign: trials, run file, report, verdict.",
    footer = {
      "",
      "Examples:",
      "  stopwell run docs/plans/first-stop.yaml",
      "  stopwell run PLAN --trials 5 --seed 42 --out runs/try",
      "  stopwell run PLAN --bench emulated --json > result.json",
      "  stopwell run PLAN --freeze                      freeze before the first trial",
      "",
      "The same plan and seed give the same results on the virtual bench, with any number of jobs.",
      "Ctrl-C ends a campaign safely. Finished trials are kept, and resume continues."
    },
    mixinStandardHelpOptions = true)
final class RunCommand extends StopwellCommand {
  private static final Path RUNS = Path.of("runs");

  @Mixin PlanOptions plans = new PlanOptions();

  @Mixin BenchOptions benches = new BenchOptions();

  @Mixin RecordsOption records = new RecordsOption();

  @Mixin PortWait portWait = new PortWait();

  @Mixin AskOption ask = new AskOption();

  @Mixin JobsOption jobs = new JobsOption();

  @Option(
      names = "--out",
      paramLabel = "DIR",
      description = "Run directory. Default: the next free directory under runs/.")
  @Nullable Path out;

  @Option(
      names = "--freeze",
      description =
          "Freeze plan, settings, station, bench and build in a file beside the plan, then"
              + " run. Every later run of the plan lists its deviations.")
  boolean freeze;

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    PrintWriter screen = out();
    PrintWriter err = err();
    Plan plan = plans.read();
    int atOnce = benches.jobs(jobs.asked);
    portWait.checked();
    BenchMaker maker = benches.maker();
    refuseTaken();
    Interruption.watch();
    try (Bench bench = maker.open()) {
      Conductor.refuseLacks(plan, bench);
      BenchRecords kept = records.of(bench.describe(), benches.at.station);
      Freezing freezing = benches.freezing(plans.file, plan, kept.items());
      if (freeze) {
        err.println("stopwell: " + freezing.freeze());
      }
      Registration registration = freezing.registration();
      Freezing.warning(registration).forEach(err::println);
      Path directory = out == null ? FreeDirectory.claim(RUNS, plan.head().name()) : out;
      try (RunFile file = create(directory, plan, bench, registration)) {
        Connection.note(benches, file);
        extensions().note(plan, benches.word(), file);
        return new Conductor(plan, file, directory, screen, err, json, portWait, ask, attendant())
            .conduct(bench, maker, atOnce, List.of(), kept);
      }
    }
  }

  private RunFile create(Path directory, Plan plan, Bench bench, Registration registration)
      throws Exception {
    String now = Utc.now();
    String command = command(plan);
    RunFile.HeaderMaker header =
        () ->
            RunHeader.of(
                plan,
                Build.identity(),
                plan.hasFaults() ? FaultyBench.labelled(bench.describe()) : bench.describe(),
                now,
                command,
                Ledger.begin(directory, plan.head().name(), now, registration));
    Optional<Blinding> blinding = plan.protocol().blinding();
    if (blinding.isEmpty()) {
      return RunFile.create(directory, header);
    }
    BlindKey key = BlindKey.draw(blinding.get().factor(), plan.blindedLevels());
    RunFile file = RunFile.create(directory, () -> header.make().coded(key));
    try {
      BlindKeyFile.write(directory, key);
      return file;
    } catch (RunFileException e) {
      file.close();
      throw e;
    }
  }

  /** The command that repeats the same trials. */
  private String command(Plan plan) throws UsageException {
    return "stopwell run "
        + plans.file
        + " --seed "
        + plan.head().seed()
        + " --trials "
        + plan.head().trials()
        + (benches.word().equals(BenchKind.VIRTUAL.word()) ? "" : " --bench " + benches.word())
        + (benches.realTime ? " --real-time" : "")
        + (benches.at.port == null ? "" : " --port " + benches.at.port)
        + (benches.at.drivePort == null ? "" : " --drive-port " + benches.at.drivePort)
        + (benches.at.station == null ? "" : " --station " + benches.at.station)
        + String.join("", extensions().words().stream().map(word -> " " + word).toList());
  }

  /** Reported before anything moves; the directory itself is taken with the run file. */
  private void refuseTaken() throws UsageException {
    if (out != null && Files.exists(out.resolve(RunFile.NAME))) {
      throw new UsageException(
          "--out " + out + ": the directory already holds a run; give another --out");
    }
  }
}
