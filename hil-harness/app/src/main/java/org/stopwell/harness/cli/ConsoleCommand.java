package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.console.ConsoleServer;
import org.stopwell.harness.console.StartDesk;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.rig.time.MachineClock;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Shows runs in a browser. */
@Command(
    name = "console",
    description = {
      "Serves a web page for a browser on this machine: the runs below a directory, how far each is,"
          + " its verdict and its report. The page may ask a running campaign to come to a safe end."
          + " It is not an emergency stop.",
      "By itself it starts nothing. With --plans the page may start the plans of that directory, one"
          + " at a time, after a confirmation, with every check of run. On which bench is said here and"
          + " cannot be changed there: what stands after -- goes to every run. After a campaign that"
          + " the emergency stop ended the page starts nothing more until the console is started again.",
    },
    footer = {
      "",
      "Examples:",
      "  stopwell console --port 8080",
      "  stopwell console --plans docs/plans",
      "  stopwell console --plans my-plans -- --bench serial --port /dev/ttyUSB0"
    },
    mixinStandardHelpOptions = true)
final class ConsoleCommand implements Callable<Integer> {
  private static final long LOOK_NS = 100_000_000;

  @Option(
      names = "--port",
      paramLabel = "N",
      description = "TCP port on the loopback address; 0 for any. Default: ${DEFAULT-VALUE}.",
      defaultValue = "8123")
  int port = 8123;

  @Option(
      names = "--dir",
      paramLabel = "DIR",
      description = "Where the run directories are. Default: ${DEFAULT-VALUE}.",
      defaultValue = "runs")
  Path directory = Path.of("runs");

  @Option(
      names = "--plans",
      paramLabel = "DIR",
      description = "Plans that the page may start; none unless told.")
  @Nullable Path plans;

  @Parameters(
      paramLabel = "-- OPTIONS",
      arity = "0..*",
      description = "With --plans, after --: options of run that say on which bench, and how.")
  List<String> options = new ArrayList<>();

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    if (!(port >= 0 && port <= 65_535)) {
      throw new UsageException("--port " + port + " is outside 0 to 65535");
    }
    StartDesk starts = plans == null ? null : starts(plans);
    if (starts == null && !options.isEmpty()) {
      throw new UsageException(
          String.join(" ", options)
              + ": options of run go with --plans, a directory of runs with --dir");
    }
    Interruption.watch();
    try (ConsoleServer server = server(starts)) {
      Objects.requireNonNull(spec).commandLine().getOut().println(server.address());
      while (!Interruption.requested()) {
        MachineClock.waitNs(LOOK_NS);
      }
      if (starts != null) {
        starts.leave();
      }
    }
    return 0;
  }

  /** What would be wrong at the first start is wrong now. */
  private StartDesk starts(Path from) throws UsageException, PlanException {
    if (!Files.isDirectory(from)) {
      throw new UsageException("--plans " + from + ": there is no such directory");
    }
    RunCommand run = new RunCommand();
    List<String> words = new ArrayList<>(List.of("a plan"));
    words.addAll(options);
    try {
      new CommandLine(run)
          .setCaseInsensitiveEnumValuesAllowed(true)
          .parseArgs(words.toArray(String[]::new));
    } catch (CommandLine.ParameterException e) {
      throw new UsageException("after --: " + e.getMessage());
    }
    if (run.out != null || run.json || run.freeze) {
      throw new UsageException("after --: --out, --json and --freeze are not for the page");
    }
    run.benches.maker();
    run.benches.jobs(run.jobs);
    return new StartDesk(
        from, run.benches.sentence(), run.benches.kind.isOfMatter(), directory, this::run);
  }

  private int run(Path plan, Path into, PrintWriter said) {
    List<String> words = new ArrayList<>(List.of("run", plan.toString(), "--out", into.toString()));
    words.addAll(options);
    return Main.run(words.toArray(String[]::new), said, said);
  }

  private ConsoleServer server(@Nullable StartDesk starts) throws UsageException {
    try {
      return new ConsoleServer(directory, port, null, starts);
    } catch (IOException e) {
      throw new UsageException("--port " + port + ": " + e.getMessage());
    }
  }
}
