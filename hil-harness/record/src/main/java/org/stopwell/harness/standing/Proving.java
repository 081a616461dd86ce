package org.stopwell.harness.standing;

import java.io.IOException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.proof.BenchProof;
import org.stopwell.rig.proof.DeviceProof;
import org.stopwell.rig.proof.Finding;
import org.stopwell.rig.proof.Finding.Outcome;
import org.stopwell.rig.proof.GaugeRun;
import org.stopwell.rig.proof.HomedStage;
import org.stopwell.rig.proof.Operator;
import org.stopwell.rig.proof.ProofRecord;
import org.stopwell.rig.time.IdleLoop;
import org.stopwell.rig.time.LatenessHistogram;

/** The proof of one bench: its checks, its gauge study, and the record of both. */
public final class Proving {
  private static final String NOT_CLEAR =
      "The stage did not move home: the clearance was not confirmed.";

  private final Bench bench;
  private final Operator operator;
  private final List<String> operators;
  private final BenchRecords kept;
  private final LatenessHistogram lateness = new LatenessHistogram();
  private final List<Finding> findings = new ArrayList<>();
  private boolean clear;
  private @Nullable Gauge gauge;

  /**
   * A proof of which nothing is done yet.
   *
   * @param bench the bench, open
   * @param operator who does what a check asks for
   * @param operators between whom the gauge study compares; empty to compare mounts
   * @param kept where the readings of the gauge study go
   */
  public Proving(Bench bench, Operator operator, List<String> operators, BenchRecords kept) {
    this.bench = bench;
    this.operator = operator;
    this.operators = List.copyOf(operators);
    this.kept = kept;
  }

  /**
   * Every check but the gauge study.
   *
   * @return whether the stage was clear to move
   * @throws BenchException when the bench fails
   */
  public boolean checks() throws BenchException {
    clear = HomedStage.of(bench, operator);
    findings.addAll(
        clear ? BenchProof.of(bench, operator, lateness) : BenchProof.notDone(NOT_CLEAR));
    return clear;
  }

  /**
   * The checks of a board that watches a device; it has no gauge study.
   *
   * @throws BenchException when the bench fails
   */
  public void deviceChecks() throws BenchException {
    findings.addAll(
        HomedStage.of(bench, operator)
            ? DeviceProof.of(bench, operator)
            : DeviceProof.notDone(NOT_CLEAR));
  }

  /**
   * The gauge study, with its finding. Its readings are kept.
   *
   * @param reading called after each reading
   * @throws IOException when the disk refuses
   */
  public void gauge(Runnable reading) throws IOException {
    if (!clear) {
      notDone(NOT_CLEAR);
      return;
    }
    for (Lack lack : bench.lacks()) {
      if (lack.ability() == Ability.POSITION || lack.ability() == Ability.TRUTH) {
        notDone(lack.clause() + ".");
        return;
      }
    }
    IdleLoop beside = new IdleLoop(bench.describe().periodNs());
    try {
      GaugeRun run = GaugeRun.of(bench, operator, operators, reading);
      if (run.nanometres().isEmpty()) {
        notDone("The action was not confirmed.");
        return;
      }
      GaugeTable table = GaugeTable.of(run);
      kept.keepGauge(table.csv());
      gauge = Gauge.of(table);
      String people = String.join(", ", operators);
      findings.add(
          gauge.finding(
              operators.isEmpty()
                  ? "mounted again"
                  : bench.describe().simulated()
                      ? "simulated remounts by " + people
                      : "between " + people));
    } catch (BenchException e) {
      findings.add(BenchProof.failed(Gauge.CHECK, e, beside.worstNs()));
    } finally {
      beside.close();
    }
  }

  private void notDone(String why) {
    findings.add(new Finding(Gauge.CHECK, Outcome.NOT_DONE, "", "", why));
  }

  /**
   * What was found so far.
   *
   * @return one finding for each check
   */
  public List<Finding> findings() {
    return List.copyOf(findings);
  }

  /**
   * How late the steps of the checks were.
   *
   * @return without steps on a bench that waits for its host
   */
  public LatenessHistogram lateness() {
    return lateness;
  }

  /**
   * The record of the proof.
   *
   * @param today the date
   * @param days how long it holds
   * @return findings, gauge and lateness
   */
  public ProofRecord record(LocalDate today, int days) {
    return new ProofRecord(
        bench.describe(),
        today,
        today.plusDays(days),
        findings,
        gauge == null ? -1 : gauge.nanometres(),
        gauge == null ? 0 : gauge.freedom(),
        new ProofRecord.Lateness(
            lateness.steps(),
            lateness.quantileNs(0.5),
            lateness.quantileNs(0.99),
            lateness.quantileNs(0.999),
            lateness.worstNs()));
  }
}
