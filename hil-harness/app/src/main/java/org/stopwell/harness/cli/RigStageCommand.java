package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.serial.SerialLink;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

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
final class RigStageCommand implements Callable<Integer> {
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

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = Objects.requireNonNull(spec).commandLine().getOut();
    if (!(speedMmPerS >= 0.001 && speedMmPerS <= 1_000)) {
      throw new UsageException("--speed " + speedMmPerS + " is outside 0.001 to 1000 mm/s");
    }
    Double to = toMm;
    if (to != null && !(Math.abs(to) <= 1_000)) {
      throw new UsageException("--to " + to + " is outside -1000 to 1000 mm");
    }
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
