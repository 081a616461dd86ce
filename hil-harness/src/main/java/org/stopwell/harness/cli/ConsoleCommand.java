package org.stopwell.harness.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.console.ConsoleServer;
import org.stopwell.rig.time.MachineClock;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Shows runs in a browser. */
@Command(
    name = "console",
    description = {
      "Serves a web page for a browser on this machine: the runs below a directory, how far each is,"
          + " its verdict and its report. The page may ask a running campaign to come to a safe end."
          + " It starts nothing, and it is not an emergency stop."
    },
    footer = {"", "Example:", "  stopwell console --port 8080"},
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

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    if (!(port >= 0 && port <= 65_535)) {
      throw new UsageException("--port " + port + " is outside 0 to 65535");
    }
    Interruption.watch();
    try (ConsoleServer server = server()) {
      Objects.requireNonNull(spec).commandLine().getOut().println(server.address());
      while (!Interruption.requested()) {
        MachineClock.waitNs(LOOK_NS);
      }
    }
    return 0;
  }

  private ConsoleServer server() throws UsageException {
    try {
      return new ConsoleServer(directory, port);
    } catch (IOException e) {
      throw new UsageException("--port " + port + ": " + e.getMessage());
    }
  }
}
