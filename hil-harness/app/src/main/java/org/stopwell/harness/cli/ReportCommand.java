package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.report.RunReport;
import org.stopwell.harness.report.RunSummary;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** Rebuilds the report of a run. */
@Command(
    name = "report",
    description = "Rebuilds report.html and junit.xml from the run file and prints the verdict.",
    footer = {"", "Example:", "  stopwell report runs/first-stop-001"},
    mixinStandardHelpOptions = true)
final class ReportCommand extends StopwellCommand {
  @Parameters(paramLabel = "DIR", description = "Run directory.")
  Path directory = Path.of("");

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    return make(directory, extensions(), json, out());
  }

  /** Makes the report of a run from its file and returns the exit code of its verdict. */
  static int make(Path directory, Extensions extensions, JsonOption json, PrintWriter out)
      throws Exception {
    try (RunFile file = RunFile.hold(directory)) {
      extensions.require(file, directory, false);
      Evidence evidence = Evidence.of(file, directory);
      RunReport.write(file, evidence, directory);
      RunSummary outcome = new RunSummary(evidence, directory);
      json.print(out, outcome.values(), outcome::print);
      return evidence.summary().verdict().exitCode();
    }
  }
}
