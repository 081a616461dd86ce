package org.stopwell.harness.cli;

import java.util.Objects;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Spec;

/** The bench itself. */
@Command(
    name = "rig",
    description =
        "Commands for the bench: ports, proof, gauge study, calibration, reference curve,"
            + " emulated board, stage.",
    subcommands = {
      RigListCommand.class,
      ProveCommand.class,
      GaugeCommand.class,
      RigCalibrateCommand.class,
      RigCurveCommand.class,
      RigEmulateCommand.class,
      RigStageCommand.class
    },
    footer = {
      "",
      "Examples:",
      "  stopwell rig list",
      "  stopwell rig prove --bench emulated",
      "  stopwell rig calibrate --bench emulated",
      "  stopwell rig curve file.size=25 fluid.level_mm=8",
      "  stopwell rig emulate --link ~/board"
    },
    mixinStandardHelpOptions = true,
    synopsisSubcommandLabel = "COMMAND")
final class RigCommand implements Runnable {
  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public void run() {
    throw new CommandLine.ParameterException(
        Objects.requireNonNull(spec).commandLine(), "a command is missing");
  }
}
