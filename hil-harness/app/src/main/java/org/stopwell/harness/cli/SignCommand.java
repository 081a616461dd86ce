package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.Verification;
import org.stopwell.harness.report.ReportCheck;
import org.stopwell.harness.report.RunReport;
import org.stopwell.harness.sign.DetachedSignature;
import org.stopwell.harness.sign.DetachedSignature.Subject;
import org.stopwell.harness.sign.SigningKey;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Signs a finished run and its report. */
@Command(
    name = "sign",
    description = {
      "Signs a finished run. Writes two signatures into the run directory: run.db.sig over the"
          + " fingerprint of the run, report.html.sig over the report.",
      "Verifies the run first and signs nothing that is damaged or changed. unblind and report"
          + " leave the first signature valid; sign the new report again. Without report.html"
          + " only the fingerprint is signed."
    },
    footer = {
      "",
      "Example:",
      "  stopwell sign runs/first-stop-001 --key lab.key",
      "",
      "Exit codes: 0 signed; 1 the run or its report is damaged or changed; 2 the run is not"
          + " finished, or the key cannot be used."
    },
    mixinStandardHelpOptions = true)
final class SignCommand extends StopwellCommand {
  @Parameters(paramLabel = "DIR", description = "Run directory.")
  Path directory = Path.of("");

  @Option(
      names = "--key",
      paramLabel = "FILE",
      required = true,
      description = "Private key, made with: stopwell key FILE. FILE.pub must be beside it.")
  Path keyFile = Path.of("");

  @Override
  public Integer call() throws Exception {
    PrintWriter out = out();
    SigningKey key = SigningKey.read(keyFile);
    Verification found = Verification.of(directory);
    List<String> faults = new ArrayList<>(found.faults());
    boolean report = false;
    if (found.isWhole()) {
      if (!found.finished()) {
        RunFile.hold(directory).close(); // a live run says who runs it
        throw new UsageException(
            directory
                + ": the campaign is not finished, its fingerprint still changes; continue with:"
                + " stopwell resume "
                + directory);
      }
      report = reportStands(faults);
    }
    if (!faults.isEmpty()) {
      faults.forEach(fault -> out.println("FAIL: " + fault));
      out.println("Nothing was signed.");
      return Verdict.FAIL.exitCode();
    }
    out.println(sign(directory.resolve(RunFile.NAME), Subject.RUN, found.fingerprint(), key));
    if (report) {
      Path page = directory.resolve(RunReport.PAGE);
      out.println(sign(page, Subject.REPORT, ReportCheck.sha256(page), key));
    } else {
      out.println(RunReport.PAGE + " is missing; only the fingerprint was signed");
    }
    out.println("key number " + key.verifying().id());
    return 0;
  }

  /** Whether there is a report to sign; one that is not of this run is a fault. */
  private boolean reportStands(List<String> faults) throws Exception {
    try (RunFile run = RunFile.load(directory)) {
      boolean sameBuild = run.header().build().equals(Build.identity());
      for (ReportCheck.Finding file : ReportCheck.of(run, directory, sameBuild)) {
        if (file.file().equals(RunReport.PAGE)) {
          switch (file.outcome()) {
            case SAME -> {}
            case MISSING -> {
              return false;
            }
            case DIFFERENT, OTHER_BUILD -> faults.add(file.text());
          }
        }
      }
    }
    return true;
  }

  /** Writes one signature and says so. */
  static String sign(Path signed, Subject subject, String sha256, SigningKey key)
      throws IOException {
    Path written = DetachedSignature.of(subject, sha256, key).write(signed);
    return "signed the " + subject.text() + " " + sha256 + " in " + written;
  }
}
