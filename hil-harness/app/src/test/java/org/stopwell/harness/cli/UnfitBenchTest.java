package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
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
import org.stopwell.harness.standing.RecordItems;
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
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;

/** The whole program with an emulated board that identifies itself as physical. */
class UnfitBenchTest {
  @TempDir Path directory;
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();
  private EmulatedBoard board;
  private BenchDescription bench;

  @BeforeEach
  void startABoard() throws Exception {
    BoardIdentity b = EmulatedBoard.identity(true, BenchOptions.PERIOD_NS);
    Packet identity = new Packet().begin(Message.IDENTITY, 1, 1);
    b.put(identity);
    identity.set(Message.IDENTITY.index("simulated"), false);
    board = EmulatedBoard.start(BoardIdentity.get(identity), 0);
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
    String idle = "front_end.noise_percent, hand.feed_mm_per_s, hand.passive_mm: no effect on this";
    assertTrue(err.toString().contains(idle), err.toString());
    try (RunFile file = RunFile.load(run)) {
      assertTrue(file.notes().stream().anyMatch(note -> note.text().startsWith(idle)));
      for (TrialResult result : file.results()) {
        assertEquals(Verdict.UNDECIDED, result.verdict());
        assertEquals("NOT_PROVEN", result.code());
        assertTrue(result.message().contains("Result without this limit: PASS"), result.message());
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
    assertTrue(err.toString().contains("CALIBRATION_DUE: Calibration overdue: ladder"));
    BenchDescription other =
        new BenchDescription("serial", bench.serialNumber(), "canal 0 old", false, true, 1_000_000);
    keep(other, LocalDate.of(2999, 12, 31));
    run("changed", 5);
    assertTrue(
        err.toString().contains("BENCH_CHANGED: At the proof its firmware was canal 0 old"),
        err.toString());
  }

  @Test
  void aFreezeHoldsTheCalibrationsAndTheRunSaysWhichHaveChanged() throws Exception {
    keep(bench, LocalDate.of(2999, 12, 31));
    String line = plan() + " --bench serial --port " + board.portName() + " --records " + directory;
    assertEquals(0, stopwell("freeze " + line), out.toString() + err);
    String frozen = Files.readString(directory.resolve("one.frozen"));
    assertTrue(frozen.contains("bench.serial_number = " + bench.serialNumber()), frozen);
    assertTrue(frozen.contains("calibration.ladder = of 2999-12-01, due 2999-12-31, +1.000"));
    assertTrue(frozen.contains("proof = of 2999-12-01, due 2999-12-31, complete, gauge 5000 nm"));
    Path before = run("before", 0);
    assertTrue(out.toString().contains(", no deviation."), out.toString());

    keep(bench, LocalDate.of(2998, 12, 31));
    Path after = run("after", 0);
    assertTrue(
        err.toString()
            .contains(
                "calibration.ladder: planned of 2999-12-01, due 2999-12-31, +1.000 Ω, spread 0.100 Ω"
                    + " of 3, against reference, certificate C-7, U 0.500 Ω (k 2.00), by OP-1,"
                    + " found of 2998-12-01"),
        err.toString());
    assertTrue(Files.readString(after.resolve("report.html")).contains("calibration.ladder"));
    assertEquals(0, stopwell("compare " + after + " " + before), err.toString());
    assertTrue(
        out.toString().contains("  calibration.ladder: of 2999-12-01, due 2999-12-31, +1.000"),
        out.toString());
    assertTrue(out.toString().contains("  proof: of 2999-12-01"), out.toString());
  }

  @Test
  void whoFreezesAwayFromTheBenchFixesNothingOfIt() throws Exception {
    keep(bench, LocalDate.of(2999, 12, 31));
    assertEquals(
        0,
        stopwell("freeze " + plan() + " --bench serial --port /dev/none --away"),
        err.toString());
    assertTrue(
        Files.readString(directory.resolve("one.frozen")).lines().noneMatch(RecordItems::isOne));
    run("run", 0);
    assertTrue(out.toString().contains(", no deviation."), out.toString());
    Files.delete(directory.resolve("one.frozen"));
    assertEquals(3, stopwell("freeze " + plan() + " --bench serial --port /dev/none"));
  }

  @Test
  void aCalibrationThatChangesBetweenFirstAndLastTrialIsADeviation() throws Exception {
    keep(bench, LocalDate.of(2999, 12, 31));
    Path whole = run("whole", 0);
    Path cut = directory.resolve("cut");
    try (RunFile from = RunFile.load(whole);
        RunFile to = RunFile.create(cut, from.header())) {
      for (RunFile.Note note : from.notes()) {
        to.note(note.kind(), note.text());
      }
      TrialResult first = from.results().get(0);
      to.append(first, from.trace(0).orElseThrow());
    }
    keep(bench, LocalDate.of(2998, 12, 31));
    assertEquals(
        0,
        stopwell("resume " + cut + " --port " + board.portName() + " --records " + directory),
        err.toString());
    String report = Files.readString(cut.resolve("report.html"));
    assertTrue(report.contains("Deviation: the records of the bench changed"), "said");
    assertTrue(report.contains("of 2998-12-01, due 2998-12-31, +1.000"), "the later one");
    assertTrue(report.contains("of 2999-12-01, due 2999-12-31, +1.000"), "and the first");
    assertFalse(Files.readString(whole.resolve("report.html")).contains("Deviation: the records"));
  }

  private Path run(String name, int code) throws Exception {
    Path run = directory.resolve(name);
    assertEquals(
        code,
        stopwell(
            "run "
                + plan()
                + " --bench serial --port "
                + board.portName()
                + " --records "
                + directory
                + " --out "
                + run),
        out.toString() + err);
    return run;
  }

  private Path plan() throws Exception {
    Path plan = directory.resolve("one.yaml");
    Files.writeString(
        plan,
        """
        plan: 1
        name: one
        settings: %s
        stage: length
        seed: 3
        trials: 2
        time_limit_s: 30
        scene:
          canal: {kind: resistors, length_mm: 4, body_ohm: 6500}
          hand: {feed_mm_per_s: 1, passive_mm: 2.5}
          front_end: {noise_percent: 0.3}
        """
            .formatted(
                TestPlans.file("first-stop")
                    .resolveSibling("../settings/resistance.yaml")
                    .normalize()));
    return plan;
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
              "OP-1",
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
