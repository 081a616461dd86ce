package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.evidence.SentinelWatch;
import org.stopwell.harness.protocol.Blinding;
import org.stopwell.harness.record.BlindKeyFile;
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
      "Do this last, after exclusions and verdict are settled. Needs "
          + BlindKeyFile.NAME
          + " of the run directory and checks it against the run file, which holds its SHA-256. The"
          + " run file is not changed; "
          + Unblinding.NAME
          + " beside it holds date and key, and the step cannot be undone."
    },
    footer = {"", "Example:", "  stopwell unblind runs/two-hands-001"},
    mixinStandardHelpOptions = true)
final class UnblindCommand extends StopwellCommand {
  @Parameters(paramLabel = "DIR", description = "Run directory.")
  Path directory = Path.of("");

  @Override
  public Integer call() throws Exception {
    PrintWriter out = out();
    try (RunFile run = RunFile.hold(directory)) {
      extensions().require(run, directory, false);
      Blinding blinding =
          run.header()
              .protocol()
              .blinding()
              .orElseThrow(() -> new UsageException(directory + ": the run is not blinded"));
      if (run.finishedAt().isEmpty()) {
        boolean waits =
            SentinelWatch.waiting(run.header().protocol(), run.results(), run.notes()).isPresent();
        throw new UsageException(
            directory
                + (waits
                    ? ": the campaign stopped at a bad sentinel; check the bench, then continue"
                        + " with: stopwell resume "
                        + directory
                        + " --after-service \"what was done\""
                    : ": the campaign is not finished; continue with: stopwell resume "
                        + directory));
      }
      String names = names(blinding);
      if (!Unblinding.isDone(directory)) {
        Unblinding.write(directory, Utc.now(), run.headHash(), names);
      }
      RunReport.write(run, Evidence.of(run, directory), directory);
      names
          .lines()
          .filter(line -> line.matches("[A-Z] .*"))
          .forEach(
              line ->
                  out.println(
                      line.charAt(0) + " = " + blinding.factor() + " " + line.substring(2)));
    }
    return 0;
  }

  /** The key; of a run file before version 4 the codes that it holds. */
  private String names(Blinding blinding) throws IOException {
    if (!blinding.commitment().isEmpty()) {
      return Unblinding.isDone(directory)
          ? Unblinding.key(directory, blinding.commitment()).text()
          : BlindKeyFile.read(directory, blinding.commitment()).text();
    }
    StringBuilder lines = new StringBuilder();
    blinding
        .codes()
        .forEach((level, code) -> lines.append(code).append(' ').append(level).append('\n'));
    return lines.toString();
  }
}
