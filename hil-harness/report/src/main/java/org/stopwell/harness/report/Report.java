package org.stopwell.harness.report;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.record.RunFile.Note;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.standing.LedgerView;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;

/** What the sections of one page are made from. */
final class Report {
  private final Evidence evidence;
  private final CampaignSummary summary;
  private final Map<Integer, TraceSeries> traces;
  private final List<Note> notes;
  private final String unblinded;
  private final String fingerprint;
  private final String finishedAt;
  private final LedgerView ledger;
  private int figures;

  /**
   * A report.
   *
   * @param evidence what counts of the run
   * @param traces the traces at hand, by trial index
   * @param notes the notes of the run file
   * @param unblinded when the levels of a blinded factor got their own names, empty before
   * @param fingerprint newest hash of the run file's chain, empty without a run file
   * @param finishedAt when the campaign was finished, empty before
   * @param ledger what the ledger of the frozen plan says
   */
  Report(
      Evidence evidence,
      Map<Integer, TraceSeries> traces,
      List<Note> notes,
      String unblinded,
      String fingerprint,
      String finishedAt,
      LedgerView ledger) {
    this.evidence = evidence;
    this.summary = evidence.summary();
    this.traces = Map.copyOf(traces);
    this.notes = List.copyOf(notes);
    this.unblinded = unblinded;
    this.fingerprint = fingerprint;
    this.finishedAt = finishedAt;
    this.ledger = ledger;
  }

  Evidence evidence() {
    return evidence;
  }

  CampaignSummary summary() {
    return summary;
  }

  RunHeader header() {
    return evidence.header();
  }

  List<TrialResult> trials() {
    return evidence.trials();
  }

  Optional<TraceSeries> trace(TrialResult trial) {
    return coded() ? Optional.empty() : Optional.ofNullable(traces.get(trial.index()));
  }

  /** Whether codes are kept: then nothing is shown that differs between levels by design. */
  boolean coded() {
    return header().isCoded();
  }

  List<Note> notes() {
    return notes;
  }

  String unblinded() {
    return unblinded;
  }

  String fingerprint() {
    return fingerprint;
  }

  /** The date and time of the end, empty while the campaign is not finished. */
  String finishedAt() {
    return finishedAt;
  }

  /** The runs under the same frozen plan. */
  LedgerView ledger() {
    return ledger;
  }

  StatisticsChoice choice() {
    return header().design().analysis().orElse(StatisticsChoice.NOTHING);
  }

  /** " (simulated)" or " (not measured here)" on every picture and table where it is so. */
  String label() {
    return Words.label(header().label());
  }

  /** The number of the next figure of the page, without a gap, and its label. */
  String nextFigure() {
    return "Figure " + ++figures + label();
  }

  Condition condition(TrialResult trial) {
    return condition(header(), trial);
  }

  static Condition condition(RunHeader header, TrialResult trial) {
    return header.conditions().stream()
        .filter(c -> c.name().equals(trial.condition()))
        .findFirst()
        .orElseThrow();
  }
}
