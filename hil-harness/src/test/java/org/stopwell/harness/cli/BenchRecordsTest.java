package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.InputStream;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.plan.CalibrationFile;
import org.stopwell.harness.plan.ProofFile;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.standing.BenchStanding;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.Withheld;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;

/** Proof and calibration of a bench, from the command line to the report. */
class BenchRecordsTest {
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
    assertEquals(Quantity.values().length, all.records().size());
    assertTrue(all.records().stream().allMatch(r -> r.simulated()));
    assertTrue(out.toString().contains("Done today: 5 readings"), out.toString());
    assertEquals(0, stopwell(command + " --step ladder --again"), out.toString() + err);
    assertEquals(7, CalibrationFile.read(Source.of(file)).records().size(), "history is kept");
  }

  @Test
  void theReportOfACampaignSaysWhatTheBenchMayDecide() throws Exception {
    Path run = directory.resolve("run");
    assertEquals(0, stopwell("rig calibrate --records " + directory), err.toString());
    assertEquals(0, stopwell("rig prove --records " + directory), out.toString() + err);
    assertTrue(out.toString().contains("PASS      gauge study     σ "), out.toString());
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

  /** The same files read for a bench that says that it is made of matter. */
  @Test
  void aSimulatedCalibrationDoesNotCountForABenchOfMatter() throws Exception {
    assertEquals(0, stopwell("rig calibrate --records " + directory), err.toString());
    assertEquals(0, stopwell("rig prove --records " + directory), err.toString());
    BenchDescription matter =
        new BenchDescription("virtual", "model", "stopwell plant", false, true, 1_000_000);
    BenchStanding standing =
        new BenchRecords(directory, matter).standing(TestPlans.quick(1), LocalDate.MIN);
    assertEquals(
        List.of(Withheld.NOT_CALIBRATED),
        standing.reasons().stream().map(BenchStanding.Reason::cause).toList());
    assertTrue(standing.uncertaintyMicrons() > 0);
  }

  @Test
  void anAnswerThatIsNoNumberIsAskedForAgain() throws Exception {
    InputStream before = System.in;
    String typed = "x\n1e9\n21,5\n";
    System.setIn(new ByteArrayInputStream(typed.getBytes(StandardCharsets.UTF_8)));
    try {
      RigCalibrateCommand.Person person =
          new RigCalibrateCommand()
          .new Person(
              new PrintWriter(out, true),
              new BenchRecords(
                  directory, new BenchDescription("serial", "B/1", "f", false, false, 1)));
      assertEquals(21_500, person.thousandths("Temperature", "°C", -40, 80));
      assertTrue(out.toString().contains("\"x\" is not a number"), out.toString());
      assertTrue(out.toString().contains("is outside -40.0 to 80.0 °C"), out.toString());
      String typedLog = Files.readString(directory.resolve("B_1.typed.txt"));
      assertEquals(3, typedLog.lines().count(), "every answer is kept, the wrong ones too");
    } finally {
      System.setIn(before);
    }
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
  void wrongUsageIsNamed() {
    assertEquals(2, stopwell("rig calibrate --step stage"));
    assertTrue(err.toString().contains("--step stage is not one of ladder, "), err.toString());
    assertEquals(2, stopwell("rig calibrate --months 0"));
    assertEquals(2, stopwell("rig prove --days 0"));
  }

  private int stopwell(String line) {
    return Main.run(line.split(" ", -1), new PrintWriter(out, true), new PrintWriter(err, true));
  }
}
