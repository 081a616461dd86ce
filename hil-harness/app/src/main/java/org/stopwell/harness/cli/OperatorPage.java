package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.console.CalibrationDesk;
import org.stopwell.harness.console.ConsoleServer;
import org.stopwell.rig.bench.BenchException;
import picocli.CommandLine.Option;

/** Asks the person at the bench on a page in the browser, in place of the terminal. */
final class OperatorPage {
  @Option(
      names = "--console",
      paramLabel = "PORT",
      arity = "0..1",
      fallbackValue = "8123",
      description =
          "Ask on a web page for a browser on this machine, not on the terminal. N is the"
              + " TCP port on the loopback address, 0 for any. Default: ${FALLBACK-VALUE}.")
  @Nullable Integer port;

  /** What asks. */
  @FunctionalInterface
  interface Work {
    Ended with(CalibrationDesk desk) throws Exception;
  }

  /**
   * How it ended.
   *
   * @param code exit code
   * @param words one sentence
   */
  record Ended(int code, String words) {}

  boolean isWanted() throws UsageException {
    Range.check("--console", port, 0, 65_535);
    return port != null;
  }

  /**
   * Works with a page.
   *
   * @param title what is done
   * @param out receives the address
   * @param after what is said of every end
   * @param work asks at the desk
   * @return the exit code
   */
  int ask(String title, PrintWriter out, String after, Work work) throws Exception {
    Interruption.watch();
    CalibrationDesk desk = new CalibrationDesk(title, Interruption::requested);
    try (ConsoleServer server = server(desk)) {
      out.println("Open " + server.address() + "calibration in a browser on this machine.");
      out.flush();
      String end = "Stopped by a fault; the readings are kept.";
      try {
        Ended ended = work.with(desk);
        end = ended.words();
        return ended.code();
      } catch (BenchException e) {
        end = e.fault() + ": " + e.getMessage();
        throw e;
      } finally {
        desk.finish(end + after);
      }
    }
  }

  private ConsoleServer server(CalibrationDesk desk) throws UsageException {
    int at = Objects.requireNonNull(port);
    try {
      return new ConsoleServer(Path.of("runs"), at, desk, null);
    } catch (IOException e) {
      throw new UsageException("--console " + at + ": " + e.getMessage());
    }
  }
}
