package org.stopwell.harness.cli;

import java.nio.file.Path;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.casework.CaseReader;
import org.stopwell.harness.casework.CaseRecord;
import org.stopwell.harness.casework.RecordCheck;
import org.stopwell.harness.casework.ToothCase;
import org.stopwell.harness.report.CasePage;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.time.Utc;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Writes the page of a tooth. */
@Command(
    name = "page",
    description = {
      "Writes the lengths of one tooth as a page that prints on one sheet of A4 or letter paper:"
          + " reference point, length with its uncertainty, file, date, length readings, radiograph,"
          + " shaping and recheck of each canal, and the head of the record.",
      "Bench and teaching. Not for use on a person.",
      "",
      "Exit codes: 0 the page is written; 1 it is written, and says that the record does not fit."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell case page tooth-36 --out tooth-36.html",
      "  stopwell case page tooth-36 --json"
    },
    mixinStandardHelpOptions = true)
final class CasePageCommand extends StopwellCommand {
  @Parameters(paramLabel = "DIR", description = "Directory of the case.")
  Path directory = Path.of("");

  @Option(names = "--out", paramLabel = "FILE", description = "File for the page, HTML.")
  @Nullable Path out;

  @Option(names = "--json", description = "Print the content of the page as JSON.")
  boolean json;

  @Override
  public Integer call() throws Exception {
    if (out == null && !json) {
      throw new UsageException("give --out FILE for the page, or --json");
    }
    ToothCase tooth = CaseReader.read(directory);
    RecordCheck record = CaseRecord.verify(directory);
    String now = Utc.now();
    if (out != null) {
      String page = CasePage.html(tooth, record, now.substring(0, 10));
      TextFile.write("--out", out, writer -> writer.write(page));
    }
    if (json) {
      out().println(Json.text(CasePage.values(tooth, record, now)));
    }
    return (record.fault().isPresent() ? Verdict.FAIL : Verdict.PASS).exitCode();
  }
}
