package org.stopwell.harness.report;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.external.WatchedTrace;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.record.Unblinding;
import org.stopwell.harness.standing.Ledger;
import org.stopwell.harness.standing.LedgerView;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** Writes what people and machines read about a run, from its run file and nothing else. */
public final class RunReport {
  /** Name of the page in the run directory. */
  public static final String PAGE = "report.html";

  /** Name of the JUnit file in the run directory. */
  public static final String JUNIT = "junit.xml";

  private RunReport() {}

  /**
   * Writes {@link #PAGE} and {@link #JUNIT}; each is whole or not there.
   *
   * @param run the run file, open
   * @param evidence what counts of it, worked out from its header and its trials
   * @param directory the run directory
   * @throws IOException when the run file is damaged or the disk refuses
   */
  public static void write(RunFile run, Evidence evidence, Path directory) throws IOException {
    CampaignSummary summary = evidence.summary();
    Ledger.update(
        directory,
        run.header(),
        new Ledger.State(
            summary.verdict().name(),
            summary.run(),
            summary.planned(),
            run.headHash(),
            run.finishedAt().isPresent()));
    for (Map.Entry<String, String> file : files(run, evidence, directory).entrySet()) {
      replace(directory.resolve(file.getKey()), file.getValue());
    }
  }

  /** The texts of {@link #PAGE} and {@link #JUNIT}, by the name of the file. */
  static Map<String, String> files(RunFile run, Evidence evidence, Path directory)
      throws IOException {
    LedgerView ledger = LedgerView.kept(directory, run.header());
    Report report =
        new Report(
            evidence,
            traces(run, evidence),
            run.notes(),
            Unblinding.said(directory).orElse(""),
            run.headHash(),
            run.finishedAt().orElse(""),
            ledger);
    Map<String, String> campaign = new LinkedHashMap<>();
    campaign.put(JUnitFile.VERDICT, evidence.summary().verdict().name());
    campaign.put(JUnitFile.FINGERPRINT, run.headHash());
    Registration frozen = run.header().registration();
    if (frozen.isFrozen()) {
      campaign.put("frozen_plan", frozen.sha256());
      campaign.put("frozen_plan_run", ledger.place());
      campaign.put("frozen_plan_warning", String.join(" ", ledger.warnings(frozen)));
    }
    List<String> cautions = ClaimWords.cautions(evidence.summary());
    for (int i = 0; i < cautions.size(); i++) {
      campaign.put(JUnitFile.CAUTION + (i + 1), cautions.get(i));
    }
    Map<String, String> files = new LinkedHashMap<>();
    files.put(PAGE, ReportPage.html(report));
    files.put(JUNIT, JUnitFile.xml(evidence.header(), evidence.trials(), campaign));
    return files;
  }

  /** The traces of the worst trials and of the first that passed with a stop, where kept. */
  private static Map<Integer, TraceSeries> traces(RunFile run, Evidence evidence)
      throws IOException {
    if (evidence.header().isCoded()) {
      return Map.of();
    }
    List<TrialResult> trials = evidence.trials();
    Set<Integer> kept = new TreeSet<>(run.tracedTrials());
    Set<Integer> wanted = new TreeSet<>(new WorstTrials(evidence.header(), trials).indices());
    trials.stream()
        .filter(t -> t.stopped() && t.verdict() == Verdict.PASS && kept.contains(t.index()))
        .findFirst()
        .ifPresent(t -> wanted.add(t.index()));
    wanted.retainAll(kept);
    if (wanted.isEmpty()) {
      kept.stream().findFirst().ifPresent(wanted::add);
    }
    Map<Integer, TraceSeries> traces = new TreeMap<>();
    for (int index : wanted) {
      byte[] trace = run.readableTrace(index).orElseThrow();
      if (!WatchedTrace.isOne(trace)) { // the samples of a device have no steps of a controller
        traces.put(index, TraceSeries.of(trace));
      }
    }
    return traces;
  }

  private static void replace(Path file, String text) throws IOException {
    Path aside = file.resolveSibling(file.getFileName() + ".new");
    try {
      Files.write(aside, text.getBytes(StandardCharsets.UTF_8));
      Files.move(aside, file, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (IOException e) {
      throw RunFileException.disk(file, e);
    }
  }
}
