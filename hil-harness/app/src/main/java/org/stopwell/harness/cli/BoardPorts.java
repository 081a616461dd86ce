package org.stopwell.harness.cli;

import java.nio.file.Path;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** Where the boards of a physical bench are. A command on a run takes what the run recorded. */
final class BoardPorts {
  @Option(
      names = "--port",
      paramLabel = "PORT",
      description =
          "Serial port of the board, such as /dev/ttyUSB0. board:C-0001 searches all ports"
              + " for the board with that serial number. --bench dut takes several ports with"
              + " commas between them; each trial goes to the board that holds its settings.")
  @Nullable String port;

  @Option(
      names = "--drive-port",
      paramLabel = "PORT",
      description = "Serial port of the drive board, on a bench of two boards.")
  @Nullable String drivePort;

  @Option(
      names = "--station",
      paramLabel = "FILE",
      description = "Station file with the pins of a Raspberry Pi, YAML.")
  @Nullable Path station;
}
