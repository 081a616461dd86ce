package org.stopwell.harness.cli;

import java.nio.file.Path;
import java.util.Arrays;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.casework.CaseStep;
import org.stopwell.harness.casework.StepPlan;
import org.stopwell.harness.plan.Plan;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Prints the plan of a step. */
@Command(
    name = "plan",
    description = {
      "Prints the plan that a step of a case runs. Saved beside the settings file of the case, the"
          + " commands check and run use it as any other plan.",
      "",
      "Exit codes: 0 the plan is printed; 5 the record has no length that the step may use."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell case plan tooth-36 MB measure",
      "  stopwell case plan tooth-36 MB measure --out tooth-36/measure.yaml",
      "  stopwell run tooth-36/measure.yaml"
    },
    mixinStandardHelpOptions = true)
final class CasePlanCommand extends StopwellCommand {
  @Parameters(index = "0", paramLabel = "DIR", description = "Directory of the case.")
  Path directory = Path.of("");

  @Parameters(index = "1", paramLabel = "CANAL", description = "Name of the canal.")
  String canal = "";

  @Parameters(
      index = "2",
      paramLabel = "STEP",
      description = "Step that moves a file: open, measure, shape or recheck.")
  String word = "";

  @Option(
      names = "--less-mm",
      paramLabel = "MM",
      description =
          "shape: how far above the recorded length the depth limit stays, mm. Default:"
              + " ${DEFAULT-VALUE}.",
      defaultValue = "0")
  double lessMm;

  @Option(names = "--out", paramLabel = "FILE", description = "Write the plan to this file.")
  @Nullable Path out;

  @Override
  public Integer call() throws Exception {
    CaseStep step =
        CaseStep.of(word)
            .filter(s -> s.stage().isPresent())
            .orElseThrow(
                () ->
                    new UsageException(
                        word
                            + " is not one of "
                            + String.join(
                                ", ",
                                Arrays.stream(CaseStep.values())
                                    .filter(s -> s.stage().isPresent())
                                    .map(CaseStep::word)
                                    .toList())));
    OpenCase open = OpenCase.read(directory, canal);
    StepPlan plan =
        StepPlan.of(
            open.tooth(),
            open.canal(),
            step,
            open.history(),
            OpenCase.microns("--less-mm", lessMm));
    Plan.read(plan.source(directory), extensions().policies());
    if (out == null) {
      out().print(plan.text());
    } else {
      TextFile.write("--out", out, writer -> writer.write(plan.text()));
    }
    return 0;
  }
}
