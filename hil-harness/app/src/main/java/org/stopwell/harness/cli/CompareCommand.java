package org.stopwell.harness.cli;

import java.nio.file.Path;
import org.stopwell.harness.claim.Comparison;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.Unblinding;
import org.stopwell.harness.report.ComparisonSummary;
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
      "Example:",
      "  stopwell compare runs/new runs/released --margin-mm 0.05",
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

  @Override
  public Integer call() throws Exception {
    Range.check("--margin-mm", marginMm, 0.001, 10);
    int margin = (int) Math.round(marginMm * 1000);
    try (RunFile after = RunFile.load(directory);
        RunFile before = RunFile.load(baseline)) {
      Comparison comparison = Comparison.of(run(baseline, before), run(directory, after), margin);
      ComparisonSummary summary = ComparisonSummary.of(comparison, margin, before, after);
      json.print(out(), summary.values(), summary::print);
      return summary.verdict().exitCode();
    }
  }

  /** A blinded run must be unblinded before a comparison. */
  private static Comparison.Run run(Path directory, RunFile file) throws Exception {
    if (file.header().protocol().blinding().isPresent() && !Unblinding.isDone(directory)) {
      throw new UsageException(
          directory + ": the run is blinded; unblind it first: stopwell unblind " + directory);
    }
    Evidence evidence = Evidence.of(file, directory);
    return new Comparison.Run(
        evidence.header().conditions(), evidence.trials(), evidence.repeats());
  }
}
