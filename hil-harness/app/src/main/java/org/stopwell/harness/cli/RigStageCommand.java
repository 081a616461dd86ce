package org.stopwell.harness.cli;

import java.io.PrintWriter;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.serial.SerialLink;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Moves the stage. */
@Command(
    name = "stage",
    description = {
      "Moves the stage of a drive board, for bring-up and to measure its scale. Positions"
          + " count from the home switch; forward is towards the foramen.",
      "Without --home and --to it prints the position of the stage. Keep hands and file" + " clear."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell rig stage --port board:D-0001 --home",
      "  stopwell rig stage --port board:D-0001 --to 10.000 --speed 2"
    },
    mixinStandardHelpOptions = true)
final class RigStageCommand extends StopwellCommand {
  @Option(
      names = "--port",
      paramLabel = "PORT",
      required = true,
      description = "Serial port of the board, or board: and its serial number.")
  String port = "";

  @Option(
      names = "--baud",
      paramLabel = "N",
      description = "Speed of the serial line, bits per second. Default: ${DEFAULT-VALUE}.",
      defaultValue = "" + SerialLink.BAUD)
  int baud = SerialLink.BAUD;

  @Option(names = "--home", description = "Move to the home switch first and count from there.")
  boolean home;

  @Option(names = "--to", paramLabel = "MM", description = "Target position, mm from home.")
  @Nullable Double toMm;

  @Option(
      names = "--speed",
      paramLabel = "MM_PER_S",
      description = "Speed, mm/s. Default: ${DEFAULT-VALUE}.",
      defaultValue = "2")
  double speedMmPerS = 2;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = out();
    Range.check("--speed", speedMmPerS, 0.001, 1_000, "mm/s");
    Double to = toMm;
    Range.check("--to", to, -1000, 1000, "mm");
    try (SerialBench board = BenchOptions.boardAt(port, baud, null)) {
      board.open();
      LinearStage stage = board.stage();
      if (home) {
        stage.home();
      }
      if (to != null) {
        stage.moveTo((int) Math.round(to * 1e3), (int) Math.round(speedMmPerS * 1e3));
      }
      LinearStage.Status now = stage.status();
      out.printf(
          java.util.Locale.ROOT,
          "%s%.3f mm from home, %s; may go from %.3f to %.3f mm at up to %.3f mm/s%n",
          board.describe().simulated() ? "simulated: " : "",
          now.positionMicrons() / 1e3,
          now.homed() ? now.why() : now.why() + ", not homed",
          now.leastMicrons() / 1e3,
          now.mostMicrons() / 1e3,
          now.fastestMicronsPerSecond() / 1e3);
    }
    return 0;
  }
}
