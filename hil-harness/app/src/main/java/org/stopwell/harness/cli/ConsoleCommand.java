package org.stopwell.harness.cli;

import java.io.IOException;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.console.CalibrationDesk;
import org.stopwell.harness.console.ConsoleServer;
import org.stopwell.harness.console.Guests;
import org.stopwell.harness.console.SettingsDesk;
import org.stopwell.harness.console.StartDesk;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.rig.time.MachineClock;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Serves the web page of the console. */
@Command(
    name = "console",
    description = {
      "Serves a web page for a browser on this machine: the runs below a directory with"
          + " progress, verdict and report. The page can request a safe end of a running"
          + " campaign. It is not an emergency stop.",
      "With --plans the page can start the plans of that directory, one at a time, after a"
          + " confirmation and with every check of run, and resume runs of the same kind of bench."
          + " Options after -- apply to every start; the page cannot change them. After a campaign that the emergency stop ended, the page"
          + " starts nothing until the console is restarted.",
      "The page is served to this machine only. With --listen it is served on one more address of"
          + " this machine too, to everybody who opens the printed address with its token. They see"
          + " runs, reports and what runs now; they cannot start, stop or answer anything.",
      "Results are pages too: the runs with a filter, the trials of one run, one trial with its"
          + " trace, and two runs compared. With --settings the page can edit the settings of that"
          + " directory; it checks them as check does, and saves valid ones only.",
    },
    footer = {
      "",
      "Examples:",
      "  stopwell console --port 8080",
      "  stopwell console --plans docs/plans --settings docs/settings",
      "  stopwell console --plans my-plans -- --bench serial --port /dev/ttyUSB0",
      "  stopwell console --listen 192.0.2.7 --token-file token.txt"
    },
    mixinStandardHelpOptions = true)
final class ConsoleCommand extends StopwellCommand {
  private static final long LOOK_NS = 100_000_000;

  /** Where the page answers the questions of a bench. */
  private final CalibrationDesk desk =
      new CalibrationDesk("Questions from the bench", Interruption::requested);

  @Option(
      names = "--port",
      paramLabel = "N",
      description = "TCP port on the loopback address; 0 for any. Default: ${DEFAULT-VALUE}.",
      defaultValue = "8123")
  int port = 8123;

  @Option(
      names = "--dir",
      paramLabel = "DIR",
      description = "Directory that holds the run directories. Default: ${DEFAULT-VALUE}.",
      defaultValue = "runs")
  Path directory = Path.of("runs");

  @Option(
      names = "--plans",
      paramLabel = "DIR",
      description = "Directory of the plans that the page can start. Default: none.")
  @Nullable Path plans;

  @Option(
      names = "--listen",
      paramLabel = "ADDRESS",
      description =
          "One address of this machine where others may look, with a token. What they read is not"
              + " encrypted. Default: none.")
  @Nullable String listen;

  @Option(
      names = "--token-file",
      paramLabel = "FILE",
      description =
          "With --listen: file whose one line is the token, at least 16 of A-Z, a-z, 0-9, _ and -."
              + " Default: a new token at each start.")
  @Nullable Path tokenFile;

  @Option(
      names = "--settings",
      paramLabel = "DIR",
      description =
          "Directory of the settings that the page can edit, and replay a trial with. Default: none.")
  @Nullable Path settings;

  @Parameters(
      paramLabel = "-- OPTIONS",
      arity = "0..*",
      description = "With --plans: options of run for every campaign, such as --bench and --port.")
  List<String> options = new ArrayList<>();

  @Override
  public Integer call() throws Exception {
    Range.check("--port", port, 0, 65_535);
    if (settings != null && !Files.isDirectory(settings)) {
      throw new UsageException("--settings " + settings + ": there is no such directory");
    }
    StartDesk starts = plans == null ? null : starts(plans);
    if (starts == null && !options.isEmpty()) {
      throw new UsageException(
          String.join(" ", options)
              + ": options of run need --plans; give a directory of runs with --dir");
    }
    Guests guests = guests();
    Interruption.watch();
    try (ConsoleServer server = server(starts, guests)) {
      out().println(server.address());
      server
          .guestAddress()
          .ifPresent(address -> out().println(address + "  (to look at, from other machines)"));
      out().flush();
      while (!Interruption.requested()) {
        MachineClock.waitNs(LOOK_NS);
      }
      if (starts != null) {
        starts.leave();
      }
    }
    return 0;
  }

  /** Reports now what would be wrong at the first start. */
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
    if (run.out != null || run.json.wanted || run.freeze) {
      throw new UsageException(
          "after --: --out, --json and --freeze are not permitted for the page");
    }
    run.benches.given = extensions();
    run.benches.maker();
    run.benches.jobs(run.jobs.asked);
    return new StartDesk(
        from,
        run.benches.sentence(),
        run.benches.word(),
        run.benches.kind().physical(),
        directory,
        extensions().policies(),
        new ConsoleCampaigns(desk, extensions().words(), options));
  }

  private @Nullable Guests guests() throws UsageException {
    if (listen == null) {
      if (tokenFile != null) {
        throw new UsageException("--token-file " + tokenFile + " needs --listen ADDRESS");
      }
      return null;
    }
    try {
      String token = tokenFile == null ? Guests.newToken() : Files.readString(tokenFile).strip();
      return new Guests(InetAddress.getByName(listen), token);
    } catch (UnknownHostException e) {
      throw new UsageException("--listen " + listen + ": no such address");
    } catch (IOException e) {
      throw new UsageException("--token-file " + tokenFile + ": the file cannot be read");
    } catch (IllegalArgumentException e) {
      throw new UsageException("--listen " + listen + ": " + e.getMessage());
    }
  }

  private ConsoleServer server(@Nullable StartDesk starts, @Nullable Guests guests)
      throws UsageException {
    try {
      return new ConsoleServer(
          directory,
          port,
          starts == null ? null : desk,
          starts,
          guests,
          new SettingsDesk(settings, extensions().policies()));
    } catch (IOException e) {
      String listening = guests == null ? "" : " --listen " + listen;
      throw new UsageException("--port " + port + listening + ": " + e.getMessage());
    }
  }
}
