package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.protocol.Blinding;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.Unblinding;
import org.stopwell.harness.report.RunReport;
import org.stopwell.rig.time.Utc;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

/** Names the levels behind the codes of a blinded run. */
@Command(
    name = "unblind",
    description = {
      "Names the level of the blinded factor behind each code of a finished run, and"
          + " rebuilds the report with the names.",
      "Do this last, after exclusions and verdict are settled. The run file is not"
          + " changed; "
          + Unblinding.NAME
          + " beside it holds the date, and the step cannot be undone."
    },
    footer = {"", "Example:", "  stopwell unblind runs/two-hands-001"},
    mixinStandardHelpOptions = true)
final class UnblindCommand extends StopwellCommand {
  @Parameters(paramLabel = "DIR", description = "Run directory.")
  Path directory = Path.of("");

  @Override
  public Integer call() throws Exception {
    PrintWriter out = out();
    try (RunFile run = RunFile.load(directory)) {
      extensions().require(run, directory, false);
      Blinding blinding =
          run.header()
              .protocol()
              .blinding()
              .orElseThrow(() -> new UsageException(directory + ": the run is not blinded"));
      if (run.finishedAt().isEmpty()) {
        throw new UsageException(
            directory
                + ": the campaign is not finished; continue with: stopwell resume "
                + directory);
      }
      if (!Unblinding.isDone(directory)) {
        Unblinding.write(directory, Utc.now(), run.headHash(), blinding);
      }
      RunReport.write(run, Evidence.of(run, directory), directory);
      blinding
          .codes()
          .forEach((level, code) -> out.println(code + " = " + blinding.factor() + " " + level));
    }
    return 0;
  }
}
