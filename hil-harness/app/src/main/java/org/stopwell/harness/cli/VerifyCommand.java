package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.protocol.Freeze;
import org.stopwell.harness.record.Origin;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.Verification;
import org.stopwell.harness.report.ReportCheck;
import org.stopwell.harness.report.RunReport;
import org.stopwell.harness.sign.DetachedSignature.Subject;
import org.stopwell.harness.sign.VerifyingKey;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Proves that a run directory is complete and unchanged. */
@Command(
    name = "verify",
    description = {
      "Proves that a run file is complete and unchanged: seal, pages, hash chain, traces. Makes"
          + " report.html and junit.xml again from the run file and compares them with those in"
          + " the directory.",
      "Prints the fingerprint of the run, the newest hash of the chain. The report and the JUnit"
          + " file show the same fingerprint.",
      "With --key it also checks two signatures, that of the fingerprint and that of the report,"
          + " and states which of them stands. A frozen plan (my-plan.frozen) is verified in the"
          + " same way."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell verify runs/first-stop-001",
      "  stopwell verify runs/first-stop-001 --key lab.key.pub",
      "  stopwell verify my-plan.frozen --key lab.key.pub",
      "",
      "Exit codes: 0 complete and unchanged, and every signature that --key asks for stands; 1"
          + " damaged or changed, or a signature is missing or does not stand; 2 no such run, or"
          + " the key cannot be used; 5 the run file holds no trial. A person who changes a file can also make its chain and its"
          + " seal again. Compare the fingerprint with one that you received when the run ended,"
          + " or check the signatures."
    },
    mixinStandardHelpOptions = true)
final class VerifyCommand extends StopwellCommand {
  /** The end of the name of a frozen plan. */
  private static final String FROZEN = ".frozen";

  /** Faults of the run file on the screen at most, assumed. */
  private static final int SHOWN = 10;

  @Parameters(paramLabel = "DIR", description = "Run directory, or a frozen plan.")
  Path directory = Path.of("");

  @Option(
      names = "--key",
      paramLabel = "PUBLIC",
      description = "Public key of the signer (FILE.pub). Checks the signatures too.")
  @Nullable Path keyFile;

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    PrintWriter out = out();
    Optional<VerifyingKey> key =
        keyFile == null ? Optional.empty() : Optional.of(VerifyingKey.read(keyFile));
    if (Files.isRegularFile(directory) && directory.toString().endsWith(FROZEN)) {
      return frozen(out, key);
    }
    Verification found = Verification.of(directory);
    List<String> faults = new ArrayList<>(found.faults());
    List<ReportCheck.Finding> files = found.isWhole() ? files() : List.of();
    List<String> weights = found.isWhole() ? weights() : List.of();
    Optional<Origin> elsewhere = found.isWhole() ? elsewhere() : Optional.empty();
    LedgerLines ledger = found.isWhole() ? LedgerLines.of(directory) : LedgerLines.NONE;
    faults.addAll(ledger.faults());
    files.stream()
        .filter(f -> f.outcome() == ReportCheck.Outcome.DIFFERENT)
        .forEach(f -> faults.add(f.text()));
    SignatureLines signatures = new SignatureLines(key);
    signatures.add(directory.resolve(RunFile.NAME), Subject.RUN, found::fingerprint);
    Path page = directory.resolve(RunReport.PAGE);
    signatures.add(page, Subject.REPORT, () -> Files.exists(page) ? ReportCheck.sha256(page) : "");
    faults.addAll(signatures.faults());
    Verdict verdict = verdict(faults.isEmpty(), found.trials());
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
    all.put("weights", weights);
    all.put("measured_here", elsewhere.isEmpty());
    all.put("ledger", ledger.text());
    all.put("signatures", signatures.values());
    json.print(
        out,
        all,
        lines -> {
          print(found, files, signatures, lines);
          weights.forEach(lines);
          elsewhere.ifPresent(
              origin ->
                  lines.accept(
                      Origin.NOT_HERE
                          + ": the stops come from "
                          + origin.table()
                          + ", SHA-256 "
                          + origin.sha256()
                          + "; only what was read from it is proven unchanged"));
          ledger.print(lines);
        });
    return verdict.exitCode();
  }

  /** A frozen plan: its lines against its hash, and its signature. */
  private int frozen(PrintWriter out, Optional<VerifyingKey> key) throws Exception {
    Map<String, Object> all = new LinkedHashMap<>();
    List<String> faults = new ArrayList<>();
    List<String> good = new ArrayList<>();
    SignatureLines signatures = new SignatureLines(key);
    try {
      Freeze freeze = Freeze.read(directory);
      good.add("PASS: frozen " + freeze.frozenAt() + " as " + freeze.sha256());
      if (!freeze.dated()) {
        good.add("not covered by the hash: the date; an older version wrote the file");
      }
      all.put("sha256", freeze.sha256());
      all.put("frozen_at", freeze.frozenAt());
      signatures.add(directory, Subject.FROZEN_PLAN, freeze::sha256);
    } catch (Freeze.FreezeException e) {
      faults.add(String.valueOf(e.getMessage()));
    }
    faults.addAll(signatures.faults());
    Verdict verdict = faults.isEmpty() ? Verdict.PASS : Verdict.FAIL;
    all.put("verdict", verdict.name());
    all.put("faults", faults);
    all.put("signatures", signatures.values());
    json.print(
        out,
        all,
        lines -> {
          faults.forEach(fault -> lines.accept("FAIL: " + fault));
          good.forEach(lines);
          signatures.good().forEach(lines);
        });
    return verdict.exitCode();
  }

  private List<ReportCheck.Finding> files() throws Exception {
    try (RunFile run = RunFile.load(directory)) {
      return ReportCheck.of(run, directory, run.header().build().equals(Build.identity()));
    }
  }

  /** Where the stops come from, unless they were measured here. */
  private Optional<Origin> elsewhere() throws Exception {
    try (RunFile run = RunFile.load(directory)) {
      return Optional.of(run.header().origin()).filter(Origin::imported);
    }
  }

  /** The weights of the run, and where those at hand differ. */
  private List<String> weights() throws Exception {
    try (RunFile run = RunFile.load(directory)) {
      List<String> lines = new ArrayList<>();
      run.header().design().weights().forEach(w -> lines.add("weights " + w.words()));
      lines.addAll(RunWeights.differences(run.header()));
      return lines;
    }
  }

  /** A file without a trial proves nothing. */
  private static Verdict verdict(boolean whole, int trials) {
    if (!whole) {
      return Verdict.FAIL;
    }
    return trials == 0 ? Verdict.UNDECIDED : Verdict.PASS;
  }

  private static void print(
      Verification found,
      List<ReportCheck.Finding> files,
      SignatureLines signatures,
      Consumer<String> out) {
    List<String> faults = found.faults();
    faults.subList(0, Math.min(SHOWN, faults.size())).forEach(f -> out.accept("FAIL: " + f));
    if (faults.size() > SHOWN) {
      out.accept("FAIL: … and " + (faults.size() - SHOWN) + " more; --json lists them all");
    }
    if (found.isWhole() && found.trials() == 0) {
      out.accept("UNDECIDED: the run file holds no trial");
    } else if (found.isWhole()) {
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
    signatures.faults().forEach(fault -> out.accept("FAIL: " + fault));
    signatures.good().forEach(out);
    found.uncovered().forEach(out);
    if (!found.fingerprint().isEmpty()) {
      out.accept("fingerprint of this run " + found.fingerprint());
    }
  }
}
