package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.plan.CalibrationFile;
import org.stopwell.harness.plan.ProofFile;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.board.EmulatedBoard;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.proof.Finding;
import org.stopwell.rig.proof.ProofRecord;
import org.stopwell.rig.wire.BoardIdentity;

/** An emulated board that says it is of matter: what the whole program makes of such a bench. */
class UnfitBenchTest {
  @TempDir Path directory;
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();
  private EmulatedBoard board;
  private BenchDescription bench;

  @BeforeEach
  void startABoard() throws Exception {
    BoardIdentity b = EmulatedBoard.identity(true, BenchOptions.PERIOD_NS);
    board =
        EmulatedBoard.start(
            new BoardIdentity(
                b.protocol(),
                b.board(),
                b.serialNumber(),
                b.firmware(),
                b.firmwareVersion(),
                b.firmwareHash(),
                /* simulated= */ false,
                b.lockstep(),
                b.hasTruth(),
                b.hasPosition(),
                b.hasMotor(),
                b.hasStage(),
                b.periodNs(),
                b.watchdogNs(),
                b.silenceNs()),
            0);
    bench =
        new BenchDescription(
            "serial",
            b.serialNumber(),
            (b.firmware() + " " + b.firmwareVersion() + " " + b.firmwareHash()).strip(),
            false,
            b.lockstep(),
            b.periodNs());
  }

  @AfterEach
  void stopTheBoard() {
    board.close();
  }

  @Test
  void aBenchWithoutProofRunsKeepsEveryNumberAndDoesNotDecide() throws Exception {
    Path run = run("run", 5);
    assertTrue(err.toString().contains("NOT_PROVEN: There is no proof on record"), err.toString());
    assertTrue(err.toString().contains("NOT_CALIBRATED: Never calibrated: ladder, "));
    try (RunFile file = RunFile.load(run)) {
      for (TrialResult result : file.results()) {
        assertEquals(Verdict.UNDECIDED, result.verdict());
        assertEquals("NOT_PROVEN", result.code());
        assertTrue(result.message().contains("Without that: PASS"), result.message());
      }
      assertTrue(file.results().stream().anyMatch(TrialResult::stopped), "the numbers are there");
    }
    String page = Files.readString(run.resolve("report.html"));
    assertTrue(page.contains("Verdicts are withheld, and every number is kept:"), "the section");
    assertTrue(page.contains("NOT_CALIBRATED"), "every reason is listed");
    assertEquals(5, stopwell("compare " + run + " " + run), out.toString());
    assertTrue(out.toString().contains("UNDECIDED: NOT_PROVEN"), out.toString());
  }

  @Test
  void withProofAndCalibrationOnRecordTheSameBenchDecides() throws Exception {
    keep(bench, LocalDate.of(2999, 12, 31));
    Path run = run("run", 0);
    String page = Files.readString(run.resolve("report.html"));
    assertTrue(page.contains("The bench was proven and calibrated when the campaign began."));
    assertTrue(page.contains("U95 "), "the uncertainty on every stop error");
    assertTrue(page.contains("certificate C-7"), "the certificate");
  }

  @Test
  void anOverdueOrChangedBenchDoesNotDecide() throws Exception {
    keep(bench, LocalDate.of(2001, 1, 1));
    run("overdue", 5);
    assertTrue(err.toString().contains("PROOF_DUE: The proof was due on 2001-01-01."));
    assertTrue(err.toString().contains("CALIBRATION_DUE: Due to be calibrated again: ladder"));
    BenchDescription other =
        new BenchDescription("serial", bench.serialNumber(), "canal 0 old", false, true, 1_000_000);
    keep(other, LocalDate.of(2999, 12, 31));
    run("changed", 5);
    assertTrue(
        err.toString().contains("BENCH_CHANGED: When it was proven its firmware was canal 0 old"),
        err.toString());
  }

  private Path run(String name, int code) throws Exception {
    Path run = directory.resolve(name);
    Path plan = directory.resolve("one.yaml");
    Files.writeString(
        plan,
        """
        plan: 1
        name: one
        settings: %s
        stage: length
        seed: 3
        trials: 1
        time_limit_s: 30
        scene:
          canal: {kind: resistors, length_mm: 8, body_ohm: 6500}
          hand: {feed_mm_per_s: 1, passive_mm: 6}
        """
            .formatted(
                TestPlans.file("first-stop")
                    .resolveSibling("../settings/resistance.yaml")
                    .normalize()));
    assertEquals(
        code,
        stopwell(
            "run "
                + plan
                + " --bench serial --port "
                + board.portName()
                + " --records "
                + directory
                + " --out "
                + run),
        out.toString() + err);
    return run;
  }

  private void keep(BenchDescription proven, LocalDate due) throws Exception {
    LocalDate date = due.minusDays(30);
    ProofRecord proof =
        new ProofRecord(
            proven,
            date,
            due,
            List.of(new Finding("rest", Finding.Outcome.PASS, "0 rpm", "1 rpm", "At rest.")),
            5_000,
            30,
            new ProofRecord.Lateness(1_000, 1, 2, 3, 4));
    List<CalibrationRecord> records = new ArrayList<>();
    for (Quantity quantity : Quantity.values()) {
      records.add(
          new CalibrationRecord(
              quantity,
              List.of(900L, 1_100L, 1_000L),
              "reference",
              "C-7",
              500,
              2_000,
              date,
              due,
              21_000,
              "A. Mori",
              false,
              ""));
    }
    Files.writeString(
        directory.resolve(bench.serialNumber() + ".proof.yaml"), ProofFile.text(proof));
    Files.writeString(
        directory.resolve(bench.serialNumber() + ".calibration.yaml"),
        CalibrationFile.text(new Calibrations(bench.serialNumber(), records)));
  }

  private int stopwell(String line) {
    return Main.run(line.split(" ", -1), new PrintWriter(out, true), new PrintWriter(err, true));
  }
}
