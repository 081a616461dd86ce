package org.stopwell.harness.cli;

import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.stopwell.harness.casework.CaseTemplate;
import org.stopwell.harness.casework.ToothCase;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Begins the case of a tooth. */
@Command(
    name = "new",
    description = {
      "Writes case.yaml and settings.yaml of one tooth into DIR, with comments. Replaces no file.",
      "The files must not identify a person: teeth have FDI numbers, canals have short names, and"
          + " operators have codes."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell case new tooth-36 --tooth 36 --operator A1",
      "  stopwell case new tooth-36 --tooth 36 --operator A1 --canal MB,ML,DB,DL"
    },
    mixinStandardHelpOptions = true)
final class CaseNewCommand extends StopwellCommand {
  @Parameters(paramLabel = "DIR", description = "Directory of the case.")
  Path directory = Path.of("");

  @Option(
      names = "--tooth",
      paramLabel = "FDI",
      required = true,
      description = "FDI number of the tooth.")
  int tooth;

  @Option(
      names = "--canal",
      paramLabel = "NAME",
      split = ",",
      description =
          "Name of a canal, such as MB. Can be repeated. Default: the canals that are usual in the"
              + " tooth.")
  List<String> canals = new ArrayList<>();

  @Option(
      names = "--operator",
      paramLabel = "CODE",
      required = true,
      description = "Code of the operator, with at least one digit, such as A1. Never a name.")
  String operator = "";

  @Override
  public Integer call() throws Exception {
    List<String> mistakes = CaseTemplate.mistakes(tooth, canals, operator);
    if (!mistakes.isEmpty()) {
      throw new UsageException(String.join("; ", mistakes));
    }
    try {
      CaseTemplate.write(directory, tooth, canals, operator);
    } catch (FileAlreadyExistsException e) {
      throw new UsageException(e.getMessage() + " exists; give another directory");
    }
    out()
        .println(
            directory.resolve(ToothCase.FILE) + ": edit it, then: stopwell case show " + directory);
    return 0;
  }
}
