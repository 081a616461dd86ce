package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.board.EmulatedBoard;
import org.stopwell.rig.serial.SerialLink;
import org.stopwell.rig.time.MachineClock;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Emulates a board. */
@Command(
    name = "emulate",
    description = {
      "Emulates a board on a pseudo-terminal until Ctrl-C: the simulated bench behind the"
          + " wire protocol. Any program that can open a serial port can use it."
    },
    footer = {
      "",
      "Example, in two terminals:",
      "  stopwell rig emulate --link ~/board",
      "  stopwell run PLAN --bench serial --port ~/board"
    },
    mixinStandardHelpOptions = true)
final class RigEmulateCommand extends StopwellCommand {
  private static final long LOOK_NS = 100_000_000;

  @Option(
      names = "--link",
      paramLabel = "PATH",
      description = "Create a symbolic link with this name to the port.")
  @Nullable Path link;

  @Option(names = "--real-time", description = "Run in real time, not at the pace of the host.")
  boolean realTime;

  @Option(
      names = "--baud",
      paramLabel = "N",
      description = "With --real-time: speed of the wire. Default: ${DEFAULT-VALUE}.",
      defaultValue = "" + SerialLink.BAUD)
  int baud = SerialLink.BAUD;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = out();
    Interruption.watch();
    try (EmulatedBoard board =
        EmulatedBoard.start(
            EmulatedBoard.identity(!realTime, BenchOptions.PERIOD_NS), realTime ? baud : 0)) {
      if (link != null) {
        makeLink(link, board.portName());
      }
      out.println(board.portName());
      while (!Interruption.requested() && board.failure() == null) {
        MachineClock.waitNs(LOOK_NS);
      }
      if (board.failure() != null) {
        throw new BenchException(RigFault.PORT_GONE, "the board failed: " + board.failure());
      }
    } finally {
      if (link != null) {
        Files.deleteIfExists(link);
      }
    }
    return 0;
  }

  private static void makeLink(Path link, String port) throws UsageException, IOException {
    try {
      Files.createSymbolicLink(link, Path.of(port));
    } catch (FileAlreadyExistsException e) {
      throw new UsageException("--link " + link + ": there already is one");
    }
  }
}
