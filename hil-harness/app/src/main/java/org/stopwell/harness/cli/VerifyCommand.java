package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Consumer;
import org.stopwell.harness.record.Verification;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** Proves that a run file is complete and unchanged. */
@Command(
    name = "verify",
    description =
        "Proves that a run file is complete and unchanged: seal, pages, hash chain, traces.",
    footer = {
      "",
      "Example:",
      "  stopwell verify runs/first-stop-001",
      "",
      "Exit codes: 0 complete and unchanged; 1 damaged or changed. A person who changes a"
          + " file can also seal it again: compare the content hash with a printed or mailed"
          + " report."
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
    Verdict verdict = found.isWhole() ? Verdict.PASS : Verdict.FAIL;
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("verdict", verdict.name());
    all.put("faults", found.faults());
    all.put("trials", found.trials());
    all.put("traces", found.traces());
    all.put("finished", found.finished());
    all.put("head_hash", found.headHash());
    all.put("content_hash", found.contentHash());
    json.print(out, all, lines -> print(found, lines));
    return verdict.exitCode();
  }

  private static void print(Verification found, Consumer<String> out) {
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
      out.accept("content hash " + found.contentHash());
      out.accept("head of the chain " + found.headHash());
    } else {
      found.faults().forEach(fault -> out.accept("FAIL: " + fault));
    }
  }
}
