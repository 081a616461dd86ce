package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.proof.Finding;
import org.stopwell.rig.proof.ProofRecord;

/** Calibrations and proofs as files. */
class BenchFilesTest {
  private static final LocalDate DAY = LocalDate.of(2026, 3, 2);

  private static final Calibrations CALIBRATIONS =
      new Calibrations(
          "B-1 \"left\"",
          List.of(
              new CalibrationRecord(
                  Quantity.LADDER,
                  List.of(250L, -1_001L, 0L),
                  "Meter: no. 7 # \\ 'a'",
                  "2026-0815",
                  120,
                  2_000,
                  DAY,
                  DAY.plusYears(1),
                  21_400,
                  "OP-1",
                  false,
                  "enable_gpio=17 idle_current_ma=100"),
              new CalibrationRecord(
                  Quantity.MOTOR_COAST,
                  List.of(41_000L, 42_000L),
                  "clock of the host",
                  "none",
                  0,
                  2_000,
                  DAY,
                  DAY,
                  -5_000,
                  "nobody",
                  true,
                  "")));

  @Test
  void calibrationsReadAsTheyWereWritten() throws Exception {
    Source written = new Source("c.yaml", CalibrationFile.text(CALIBRATIONS));
    assertEquals(CALIBRATIONS, CalibrationFile.read(written));
  }

  @Test
  void aProofReadsAsItWasWritten() throws Exception {
    ProofRecord proof =
        new ProofRecord(
            new BenchDescription(
                "pi", "B-1", "canal 1 ab: #", false, false, 1_000_000, "enable_gpio=17"),
            DAY,
            DAY.plusDays(30),
            List.of(
                new Finding("emergency stop", Finding.Outcome.NOT_DONE, "", "", "Nobody."),
                new Finding("rest", Finding.Outcome.FAIL, "9 rpm", "0 ± 1 rpm", "Told to rest.")),
            4_213,
            30,
            new ProofRecord.Lateness(2_001, 16_000, 128_000, 256_000, 300_123));
    assertEquals(proof, ProofFile.read(new Source("p.yaml", ProofFile.text(proof))));
    ProofRecord noGauge =
        new ProofRecord(proof.bench(), DAY, DAY, proof.findings(), -1, 0, proof.lateness());
    assertEquals(noGauge, ProofFile.read(new Source("p.yaml", ProofFile.text(noGauge))));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "quantity: ladder | quantity: lader | records.quantity: lader is not one of",
        "k: 2 | k: 0.5 | c.yaml:12: records.ladder.k: 0.5 is outside 1 to 10",
        "temperature_c: 21.4 | temperature_c: 121.4 | 121.4 °C is outside -40 to 80 °C",
        "date: 2026-03-02 | date: 2.3.2026 | records.ladder.date: 2.3.2026 is not a date",
        "due: 2027-03-02 | due: 2025-03-02 | 2025-03-02 comes before date 2026-03-02",
        "uncertainty_ohm: 0.12 | uncertainty_um: 0.12 | records.ladder.uncertainty_ohm: missing",
        "readings_ohm: [0.25, -1.001, 0] | readings_ohm: [0.25] | 1 readings; at least 2",
        "readings_ohm: [0.25, -1.001, 0] | readings_ohm: [0.25, x] | x is not a number",
        "readings_ohm: [0.25, -1.001, 0] | readings_ohm: [1e9, 2] | 1E+9 is outside",
        "operator: | operater: | unknown key",
      })
  void aMistakeIsNamedWithItsPlaceValueAndLimit(String right, String wrong, String message) {
    String text = CalibrationFile.text(CALIBRATIONS);
    assertTrue(text.contains(right), text);
    Source source =
        new Source("c.yaml", text.replaceFirst(java.util.regex.Pattern.quote(right), wrong));
    PlanException e = assertThrows(PlanException.class, () -> CalibrationFile.read(source));
    assertTrue(e.toString().contains(message), e.toString());
  }

  @Test
  void allMistakesOfAFileAreNamedAtOnce() {
    String text =
        CalibrationFile.text(CALIBRATIONS)
            .replace("k: 2", "k: 99")
            .replace("temperature_c: -5", "temperature_c: hot");
    PlanException e =
        assertThrows(PlanException.class, () -> CalibrationFile.read(new Source("c.yaml", text)));
    assertEquals(3, e.mistakes().size(), e.getMessage());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "calibration: 1 | records: missing",
        "'' | the file is empty",
        "[1] | expected keys",
      })
  void whatIsNoCalibrationIsRefused(String text, String message) {
    PlanException e =
        assertThrows(PlanException.class, () -> CalibrationFile.read(new Source("c.yaml", text)));
    assertTrue(e.toString().contains(message), e.toString());
  }

  @Test
  void aProofWithoutFindingsIsRefused() {
    PlanException e =
        assertThrows(
            PlanException.class,
            () -> ProofFile.read(new Source("p.yaml", "proof: 1\nfindings: []\n")));
    assertTrue(e.toString().contains("findings: missing: a list"), e.toString());
  }
}
