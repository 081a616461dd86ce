package org.stopwell.harness.cli;

import java.nio.file.Path;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.console.ComparedRuns;
import org.stopwell.harness.console.RefusedException;
import org.stopwell.harness.report.Place;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Compares a run with a baseline. */
@Command(
    name = "compare",
    description =
        "Compares a run with a baseline: how far the mean stop of each condition moved,"
            + " against a margin, and which inputs changed.",
    footer = {
      "",
      "Examples:",
      "  stopwell compare runs/new runs/released --margin-mm 0.05",
      "  stopwell compare runs/new runs/released --page compared.html",
      "",
      "Trials with the same number and seed are compared in pairs. Trials that share a canal"
          + " are repeats: each canal counts as one number. PASS: every condition moved less than"
          + " the margin, and no trial got worse. FAIL: a condition moved beyond the margin, or"
          + " more trials failed or ended without a stop than chance explains, in one condition"
          + " or over all together. UNDECIDED: the trials do not decide."
    },
    mixinStandardHelpOptions = true)
final class CompareCommand extends StopwellCommand {
  @Parameters(index = "0", paramLabel = "DIR", description = "Run directory under test.")
  Path directory = Path.of("");

  @Parameters(index = "1", paramLabel = "BASELINE", description = "Run directory to compare with.")
  Path baseline = Path.of("");

  @Option(
      names = "--margin-mm",
      paramLabel = "M",
      description =
          "Permitted shift of the mean stop error of a condition, mm. Default:"
              + " ${DEFAULT-VALUE}.",
      defaultValue = "0.05")
  double marginMm = 0.05;

  @Mixin JsonOption json = new JsonOption();

  @Option(
      names = "--page",
      paramLabel = "HTML",
      description =
          "Write a page: the shift of each condition with its interval against the margin, what"
              + " changed, and the trials that moved most with their traces.")
  @Nullable Path page;

  @Override
  public Integer call() throws Exception {
    Range.check("--margin-mm", marginMm, 0.001, 10);
    int margin = (int) Math.round(marginMm * 1000);
    try (ComparedRuns runs =
        ComparedRuns.of(directory, baseline, margin, extensions().policies())) {
      if (page != null) {
        TextFile.write("--page", page, writer -> writer.write(runs.page(Place.NONE)));
      }
      json.print(out(), runs.summary().values(), runs.summary()::print);
      return runs.summary().verdict().exitCode();
    } catch (RefusedException e) {
      throw new UsageException(String.valueOf(e.getMessage()));
    }
  }
}
