package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.InputStream;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.plan.CalibrationFile;
import org.stopwell.harness.plan.ProofFile;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.standing.BenchRecords;
import org.stopwell.harness.standing.BenchStanding;
import org.stopwell.harness.standing.CalibrationSteps;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.Withheld;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.calibration.CalibrationJournal;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.virtual.VirtualBench;

/** Proof and calibration of a bench, from the command line to the report. */
class BenchRecordsTest {
  private static final BenchDescription MATTER =
      new BenchDescription("pi", "B-1", "f", false, true, 1_000_000, "enable_gpio=17");

  @TempDir Path directory;
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @Test
  void aSimulatedBenchIsCalibratedStepByStepAndStepsOfTodayAreNotRepeated() throws Exception {
    String command = "rig calibrate --records " + directory;
    assertEquals(0, stopwell(command + " --step ladder"), out.toString() + err);
    assertTrue(out.toString().contains("simulated"), out.toString());
    Path file = directory.resolve("model.calibration.yaml");
    assertEquals(1, CalibrationFile.read(Source.of(file)).records().size());
    assertEquals(0, stopwell(command), out.toString() + err);
    Calibrations all = CalibrationFile.read(Source.of(file));
    int steps = Quantity.of(Quantity.Group.CONTROLLER).size();
    assertEquals(steps - 1, all.records().size(), "a model has no capacitors");
    assertTrue(all.records().stream().allMatch(r -> r.simulated()));
    assertTrue(out.toString().contains("Done today: 5 readings"), out.toString());
    assertEquals(0, stopwell(command + " --step ladder --again"), out.toString() + err);
    assertEquals(7, CalibrationFile.read(Source.of(file)).records().size(), "history is kept");
  }

  /** The device board of a simulated bench has steps and checks of its own, and no gauge study. */
  @Test
  void aDeviceBoardIsCalibratedAndProvenByItsOwnSteps() throws Exception {
    String at = " --device --records " + directory;
    assertEquals(0, stopwell("rig calibrate" + at), out.toString() + err);
    assertTrue(out.toString().contains("1 of 10  leak: "), out.toString());
    assertTrue(out.toString().contains("limit at least 100 MΩ: PASS"), out.toString());
    Path file = directory.resolve("model.calibration.yaml");
    Calibrations all = CalibrationFile.read(Source.of(file));
    assertEquals(
        Quantity.of(Quantity.Group.DEVICE), all.records().stream().map(r -> r.quantity()).toList());
    assertEquals(0, stopwell("rig prove" + at), out.toString() + err);
    assertTrue(out.toString().contains("PASS       network steps   "), out.toString());
    assertFalse(out.toString().contains("gauge study"), out.toString());
    Path proof = directory.resolve("model.proof.yaml");
    assertTrue(ProofFile.read(Source.of(proof)).ofDevice());
    assertEquals(0, stopwell("check " + file + " " + proof), err.toString());
    assertTrue(out.toString().contains("10 records\n"), "nothing is missing: " + out);
    assertTrue(out.toString().contains(", complete, good until"), out.toString());
    assertEquals(2, stopwell("rig calibrate --step shank"));
  }

  @Test
  void theReportOfACampaignSaysWhatTheBenchMayDecide() throws Exception {
    Path run = directory.resolve("run");
    assertEquals(0, stopwell("rig calibrate --records " + directory), err.toString());
    assertEquals(0, stopwell("rig prove --records " + directory), out.toString() + err);
    assertTrue(out.toString().contains("PASS       gauge study     σ "), out.toString());
    ProofFile.read(Source.of(directory.resolve("model.proof.yaml")));
    String plan = TestPlans.file("resistor-network").toString();
    int code = stopwell("run " + plan + " --trials 1 --records " + directory + " --out " + run);
    assertTrue(code == 0 || code == 5, out.toString() + err);
    String page = Files.readString(run.resolve("report.html"));
    assertTrue(page.contains("May the bench decide?"), "the section");
    assertTrue(page.contains("U95"), "the uncertainty");
    assertTrue(page.contains("By drawing (JCGM 101)"), "the other method");
    assertEquals(0, stopwell("verify " + run), out.toString() + err);
  }

  /** The same files, read for a bench that identifies itself as physical. */
  @Test
  void aSimulatedCalibrationDoesNotCountForABenchOfMatter() throws Exception {
    assertEquals(0, stopwell("rig calibrate --records " + directory), err.toString());
    assertEquals(0, stopwell("rig prove --records " + directory), err.toString());
    BenchDescription physical =
        new BenchDescription("virtual", "model", "stopwell plant", false, true, 1_000_000);
    BenchStanding standing =
        new BenchRecords(directory, physical).standing(TestPlans.quick(1), LocalDate.MIN);
    assertEquals(
        List.of(Withheld.NOT_CALIBRATED),
        standing.reasons().stream().map(BenchStanding.Reason::cause).toList());
    assertTrue(standing.uncertaintyMicrons() > 0);
  }

  @Test
  void anAnswerThatIsNoNumberIsAskedForAgain() {
    InputStream typed = bytes("x\n1e9\n21,5\n");
    assertEquals(
        Optional.of(21_500L),
        new TypedAnswers(typed, new PrintWriter(out, true))
            .thousandths("Temperature", "°C", -40, 80));
    assertTrue(out.toString().contains("\"x\" is not a number"), out.toString());
    assertTrue(out.toString().contains("is outside -40.0 to 80.0 °C"), out.toString());
  }

  /** The program is gone between two resistors; a new one goes on, and asks for no more. */
  @Test
  void aCalibrationThatWasKilledInTheMiddleOfALadderGoesOnWithTheNextResistor() throws Exception {
    BenchRecords kept = new BenchRecords(directory, MATTER);
    String head = "OP-1\nmeter 7\nC-1\n0.1\n2\n21\n";
    StringBuilder nine = new StringBuilder();
    StringBuilder five = new StringBuilder();
    for (int k = 0; k < 14; k++) {
      (k < 9 ? nine : five).append(k + 1).append("\n").append(k).append(".75\n");
    }
    assertTrue(!ladder(kept, nine + "10\n\ny\n"), out.toString());
    assertTrue(out.toString().contains("9 readings are kept; start the command again to continue"));
    assertEquals(0, kept.calibrations().records().size(), "half a ladder is no record");
    Files.writeString(
        directory.resolve("B-1.unfinished.txt"),
        "2026-01-01T00:00:0",
        StandardOpenOption.APPEND); // a power cut in the middle of a line
    assertTrue(ladder(kept, five + "y\n" + head), out.toString());
    assertTrue(out.toString().contains("9 of 14 readings exist"), out.toString());
    assertTrue(out.toString().contains("1 of 7  ladder: "), out.toString());
    CalibrationRecord record = kept.calibrations().inForce(Quantity.LADDER).orElseThrow();
    assertEquals(Collections.nCopies(14, 250L), record.readingsThousandths());
    assertEquals("enable_gpio=17", record.setup());
    assertEquals("meter 7", record.instrument());
    assertEquals(List.of(), kept.journal().taken(Quantity.LADDER), "the step is finished");
    assertEquals(20 + 11 + 6, Files.readString(directory.resolve("B-1.typed.txt")).lines().count());
  }

  private boolean ladder(BenchRecords kept, String typed) throws Exception {
    try (VirtualBench model = new VirtualBench(1_000_000)) {
      model.open();
      Bench physical =
          new ForwardingBench(model) {
            @Override
            public BenchDescription describe() {
              return MATTER;
            }
          };
      TypedAnswers attendant = new TypedAnswers(bytes(typed), new PrintWriter(out, true));
      return new CalibrationSteps(physical, kept, attendant, null, 12, 1)
          .step(Quantity.LADDER, false);
    }
  }

  @Test
  void readingsOfYesterdayAreNotMixedWithThoseOfToday() throws Exception {
    Path file = directory.resolve("x.unfinished.txt");
    Files.writeString(
        file, "2026-03-01T08:00:00Z ladder 1.000\n2026-03-02T09:00:00Z ladder 2.000\n");
    Instant now = Instant.parse("2026-03-02T10:00:00Z");
    assertEquals(List.of(2_000L), new CalibrationJournal(file, now).taken(Quantity.LADDER));
    assertEquals(2, Files.readString(file).lines().count(), "nothing is taken out of the file");
  }

  private static InputStream bytes(String text) {
    return new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8));
  }

  @Test
  void aRecordOfAnotherBenchIsRefused() throws Exception {
    Files.writeString(
        directory.resolve("model.calibration.yaml"),
        CalibrationFile.text(new Calibrations("other", List.of()))
            .replace("records:", "records: []"));
    assertEquals(2, stopwell("rig calibrate --records " + directory));
    assertTrue(err.toString().contains("is of bench other, this is model"), err.toString());
  }

  @Test
  void anOldProofStaysAndCheckReadsTheRecords() throws Exception {
    assertEquals(0, stopwell("rig prove --records " + directory), err.toString());
    assertEquals(0, stopwell("rig prove --records " + directory), err.toString());
    assertEquals(0, stopwell("rig calibrate --step ladder --records " + directory));
    try (var files = Files.list(directory)) {
      String list =
          files
              .filter(f -> f.toString().endsWith(".yaml"))
              .map(Path::toString)
              .sorted()
              .collect(java.util.stream.Collectors.joining(" "));
      assertEquals(3, list.split(" ").length, list);
      assertEquals(0, stopwell("check " + list), err.toString());
    }
    assertTrue(
        out.toString().contains("calibrations of bench model, 1 records, never done: stage"));
    assertTrue(out.toString().contains("proof of bench model, complete, good until"));
  }

  @Test
  void aCalibrationAtThePageWritesTheSameRecord() throws Exception {
    String command = "rig calibrate --step ladder --records " + directory;
    assertEquals(0, stopwell(command + " --console 0"), out.toString() + err);
    assertTrue(
        out.toString().matches("(?s).*Open http://127.0.0.1:\\d+/calibration in a browser.*"),
        out.toString());
    Path file = directory.resolve("model.calibration.yaml");
    String atThePage = Files.readString(file);
    Files.delete(file);
    assertEquals(0, stopwell(command), err.toString());
    assertEquals(Files.readString(file), atThePage);
  }

  @Test
  void wrongUsageIsNamed() {
    assertEquals(2, stopwell("rig calibrate --step stage"));
    assertTrue(err.toString().contains("--step stage is not one of ladder, "), err.toString());
    assertEquals(2, stopwell("rig calibrate --months 0"));
    assertEquals(2, stopwell("rig prove --days 0"));
    assertEquals(2, stopwell("rig calibrate --console 70000"));
    assertTrue(err.toString().contains("--console 70000 is outside 0 to 65535"), err.toString());
  }

  private int stopwell(String line) {
    return Main.run(line.split(" ", -1), new PrintWriter(out, true), new PrintWriter(err, true));
  }
}
