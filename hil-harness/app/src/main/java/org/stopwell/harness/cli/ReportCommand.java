package org.stopwell.harness.cli;

import java.nio.file.Path;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.report.RunReport;
import org.stopwell.harness.report.RunSummary;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Rebuilds the report of a run. */
@Command(
    name = "report",
    description = "Rebuilds report.html and junit.xml from the run file and prints the verdict.",
    footer = {"", "Example:", "  stopwell report runs/first-stop-001"},
    mixinStandardHelpOptions = true)
final class ReportCommand implements Callable<Integer> {
  @Parameters(paramLabel = "DIR", description = "Run directory.")
  Path directory = Path.of("");

  @Option(names = "--json", description = "Print the result as JSON.")
  boolean json;

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    var out = java.util.Objects.requireNonNull(spec).commandLine().getOut();
    try (RunFile file = RunFile.load(directory)) {
      Evidence evidence = Evidence.of(file, directory);
      RunReport.write(file, evidence, directory);
      RunSummary outcome = new RunSummary(evidence, directory);
      if (json) {
        out.println(Json.text(outcome.values()));
      } else {
        outcome.print(out::println);
      }
      return evidence.summary().verdict().exitCode();
    }
  }
}
