package org.stopwell.harness.cli;

import java.util.Objects;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Spec;

/** The whole job of one tooth. */
@Command(
    name = "case",
    description = {
      "The whole job of one tooth: open, measure, write down, radiograph, shape, recheck, fill."
          + " DIR holds case.yaml, which a person edits, and record.jsonl, to which every step adds"
          + " an entry.",
      "",
      "Bench and teaching. Not for use on a person; licensed practice decides."
    },
    subcommands = {
      CaseNewCommand.class,
      CaseShowCommand.class,
      CaseMeasureCommand.class,
      CaseRadiographCommand.class,
      CaseRecheckCommand.class,
      CasePlanCommand.class,
      CaseOpenCommand.class,
      CaseShapeCommand.class,
      CasePageCommand.class,
      CaseFillCommand.class,
      CaseVerifyCommand.class
    },
    footer = {
      "",
      "Examples:",
      "  stopwell case new tooth-36 --tooth 36 --canal MB --canal ML --canal D --operator A1",
      "  stopwell case show tooth-36",
      "  stopwell case verify tooth-36"
    },
    mixinStandardHelpOptions = true,
    synopsisSubcommandLabel = "COMMAND")
final class CaseCommand implements Runnable {
  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public void run() {
    throw new CommandLine.ParameterException(
        Objects.requireNonNull(spec).commandLine(), "a command is missing");
  }
}
