package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.Verification;
import org.stopwell.harness.report.ReportCheck;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** Proves that a run directory is complete and unchanged. */
@Command(
    name = "verify",
    description = {
      "Proves that a run file is complete and unchanged: seal, pages, hash chain, traces. Makes"
          + " report.html and junit.xml again from the run file and compares them with those in"
          + " the directory.",
      "Prints the fingerprint of the run, the newest hash of the chain. The report and the JUnit"
          + " file show the same fingerprint."
    },
    footer = {
      "",
      "Example:",
      "  stopwell verify runs/first-stop-001",
      "",
      "Exit codes: 0 complete and unchanged; 1 damaged or changed. A person who changes a"
          + " file can also make its chain and its seal again. Compare the fingerprint with one"
          + " that you received when the run ended."
    },
    mixinStandardHelpOptions = true)
final class VerifyCommand extends StopwellCommand {
  @Parameters(paramLabel = "DIR", description = "Run directory.")
  Path directory = Path.of("");

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    PrintWriter out = out();
    Verification found = Verification.of(directory);
    List<String> faults = new ArrayList<>(found.faults());
    List<ReportCheck.Finding> files = found.isWhole() ? files() : List.of();
    files.stream()
        .filter(f -> f.outcome() == ReportCheck.Outcome.DIFFERENT)
        .forEach(f -> faults.add(f.text()));
    Verdict verdict = faults.isEmpty() ? Verdict.PASS : Verdict.FAIL;
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("verdict", verdict.name());
    all.put("faults", faults);
    all.put("trials", found.trials());
    all.put("traces", found.traces());
    all.put("finished", found.finished());
    all.put("fingerprint", found.fingerprint());
    all.put("not_covered", found.uncovered());
    Map<String, Object> compared = new LinkedHashMap<>();
    files.forEach(f -> compared.put(f.file(), f.outcome().name()));
    all.put("files", compared);
    json.print(out, all, lines -> print(found, files, lines));
    return verdict.exitCode();
  }

  private List<ReportCheck.Finding> files() throws Exception {
    try (RunFile run = RunFile.load(directory)) {
      return ReportCheck.of(run, directory, run.header().build().equals(Build.identity()));
    }
  }

  private static void print(
      Verification found, List<ReportCheck.Finding> files, Consumer<String> out) {
    found.faults().forEach(fault -> out.accept("FAIL: " + fault));
    if (found.isWhole()) {
      out.accept(
          "PASS: "
              + found.trials()
              + " trials and "
              + found.traces()
              + " traces are unchanged"
              + (found.finished()
                  ? " and sealed"
                  : "; the run is not finished, so there is no seal"));
    }
    files.forEach(
        f ->
            out.accept(
                switch (f.outcome()) {
                  case SAME -> "PASS: " + f.text();
                  case DIFFERENT -> "FAIL: " + f.text();
                  case MISSING, OTHER_BUILD -> f.text();
                }));
    found.uncovered().forEach(what -> out.accept("not covered by the chain: " + what));
    if (!found.fingerprint().isEmpty()) {
      out.accept("fingerprint of this run " + found.fingerprint());
    }
  }
}
