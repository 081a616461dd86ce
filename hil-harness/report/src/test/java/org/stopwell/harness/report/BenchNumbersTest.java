package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.budget.StopBudget;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.plan.CalibrationFile;
import org.stopwell.harness.plan.ProofFile;
import org.stopwell.harness.record.Design;
import org.stopwell.harness.record.RunFile.Note;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.standing.BenchNotes;
import org.stopwell.harness.standing.LedgerView;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.proof.Finding;
import org.stopwell.rig.proof.ProofRecord;

/**
 * The numbers that say whether the bench may decide, each beside its label: from calibrations with
 * plain means, computed by hand: 21 readings at −1, 0 and +1 about the mean spread by √0.7.
 */
class BenchNumbersTest {
  private static final LocalDate DAY = LocalDate.of(2026, 3, 2);
  private static final BenchDescription HARDWARE =
      new BenchDescription("serial", "B-1", "canal 1", false, false, 1_000_000);
  private static final String BUDGET = "Uncertainty of one stop error, with the file at rest.";

  private static final ReadPage PAGE = page();

  @Test
  void eachCalibrationStandsWithMeanSpreadAndReference() {
    String table = "Calibrations in force.";
    cells(table, "ladder", "+2.000 Ω", "0.837 Ω of 21", "meter, certificate C-1", "0.600 Ω (2.00)");
    cells(
        table,
        "stage_scale",
        "+5.000 µm",
        "1.673 µm of 21",
        "meter, certificate C-1",
        "0.600 µm (2.00)");
    cells(
        table,
        "stage_backlash",
        "-8.000 µm",
        "0.837 µm of 21",
        "meter, certificate C-1",
        "0.600 µm (2.00)");
    assertEquals("2026-03-02, 2026-04-01", PAGE.cell(table, "ladder", "Done, due").main());
    assertEquals("21.5 °C, A", PAGE.cell(table, "ladder", "At, by").main());
  }

  private void cells(String table, String row, String... cells) {
    List<String> columns = List.of("Mean", "Spread", "Reference", "U (k)");
    for (int i = 0; i < cells.length; i++) {
      assertEquals(cells[i], PAGE.cell(table, row, columns.get(i)).main(), row);
    }
  }

  /** A rectangle of half width a has the uncertainty a/√3; a reference has U/k. */
  @Test
  void eachLineOfTheBudgetStandsWithItsShare() {
    line("stage scale, reference", "0.300 µm", "∞", "1.00", "0.300 µm");
    line("stage scale, offset left uncorrected", "2.887 µm", "∞", "1.00", "2.887 µm");
    line("stage scale, one place", "1.673 µm", "20", "1.00", "1.673 µm");
    line("stage backlash, half of it either way", "2.792 µm", "∞", "1.00", "2.792 µm");
    line("ladder, one place", "0.837 Ω", "20", "0.333", "0.279 µm");
    line("ladder, temperature", "0.577 Ω", "∞", "0.333", "0.192 µm");
    line("ladder against stage, repeated and mounted again", "1.700 µm", "12", "1.00", "1.700 µm");
    assertEquals(12, PAGE.rows(BUDGET).size());
  }

  private void line(String name, String... cells) {
    List<String> columns = List.of("u", "ν", "c", "|c| u");
    for (int i = 0; i < cells.length; i++) {
      assertEquals(cells[i], PAGE.cell(BUDGET, name, columns.get(i)).main(), name);
    }
  }

  @Test
  void theSumIsThatOfTheLines() {
    double backlash = (4 + Math.sqrt(0.7)) / Math.sqrt(3);
    double squares =
        (0.09 + 25 / 3.0 + 2.8)
            + (0.09 + backlash * backlash)
            + (0.09 + 4 / 3.0 + 0.7 + 1 / 3.0) / 9
            + 6.25 / 3
            + 3
            + 2.89;
    double u = Math.sqrt(squares);
    double freedom = squares * squares / (2.8 * 2.8 / 20 + 0.49 / 81 / 20 + 2.89 * 2.89 / 12);
    List<Double> said = numbers(PAGE.pair("By propagation (JCGM 100)"), "u", "freedom", "k", "U95");
    assertEquals(u, said.get(0), 0.0051);
    assertEquals(freedom, said.get(1), 0.051);
    double k = 1.963; // Student's t, 95 %, 687 degrees of freedom: table
    assertEquals(687, Math.floor(freedom));
    assertEquals(k, said.get(2), 0.0051);
    assertEquals(k * u, said.get(3), 0.051);
    List<Double> drawn = numbers(PAGE.pair("By drawing (JCGM 101)"), "u", "from", "to");
    // Student's t with ν degrees of freedom has the variance ν/(ν − 2).
    double wider = 2.89 * 2 / 10 + (2.8 + 0.7 / 9) * 2 / 18;
    assertEquals(Math.sqrt(squares + wider), drawn.get(0), 0.03);
    assertEquals(-k * u, drawn.get(1), 0.3);
    assertEquals(k * u, drawn.get(2), 0.3);
    int stated = (int) Math.ceil(Math.max(k * u, (drawn.get(2) - drawn.get(1)) / 2 - 0.05));
    // ±500 µm: 480 and −200 conform, 495 lies nearer to the limit than U95, 600 does not conform.
    String zones = PAGE.pair("Conformity, guard band ±(tolerance − U95)");
    assertTrue(
        zones.startsWith(
            "U95 "
                + stated
                + " µm on every stop error: 2 stops conform, 1 cannot be decided, 1 do not conform"),
        zones);
  }

  @Test
  void latencyAndCoastCountByTheFeed() {
    assertEquals(
        "link: u 0.84 µm; coast: u 1.67 µm",
        PAGE.pair("Shares of the error chain, at a feed of 1 mm/s"));
  }

  @Test
  void theProofStandsWithItsNumbers() {
    assertEquals("2026-03-02, valid until the end of 2026-04-01", PAGE.pair("Proven"));
    assertEquals("pass: 0.2 rpm (allowed: 1 rpm)", PAGE.pair("rest"));
    assertEquals(
        "σ 1.7 µm with 12 degrees of freedom; allowed 17 µm for 10 %, 50 µm for 30 % of ±0.5 mm",
        PAGE.pair("Gauge study"));
    assertEquals(
        "5000 steps: half within 0.010 ms, 99 % within 0.200 ms, 99.9 % within 3.000 ms, worst"
            + " 4.500 ms",
        PAGE.pair("Loop lateness"));
  }

  /** Four trials, 1, 2, 3 and 21 ms late at worst; 95 % of four are all four. */
  @Test
  void theLatestStepsAreThoseOfTheTrials() {
    assertEquals(
        "half of the trials within 2.000 ms, 95 % within 21.000 ms, worst 21.000 ms; 1 of 4 later"
            + " than 20 ms, which makes a trial a fault of the rig",
        PAGE.pair("Latest step of each trial"));
  }

  private static List<Double> numbers(String text, String... names) {
    List<Double> numbers = new ArrayList<>();
    for (String name : names) {
      MatchResult found =
          Pattern.compile("(?:^|[ ,])" + name + " ([-+]?[0-9.]+)")
              .matcher(text.replace('−', '-'))
              .results()
              .findFirst()
              .orElseThrow(() -> new AssertionError("no " + name + " in " + text));
      numbers.add(Double.parseDouble(found.group(1)));
    }
    return numbers;
  }

  private static ReadPage page() {
    RunHeader h = SampleRun.header(4, 0);
    RunHeader header =
        new RunHeader(
            h.planName(),
            h.planYaml(),
            h.settingsYaml(),
            h.build(),
            HARDWARE,
            7,
            h.conditions(),
            List.of(),
            h.startedAt(),
            h.command(),
            h.protocol(),
            h.registration(),
            new Design(
                Optional.of(StatisticsChoice.DEFAULT),
                List.of(),
                Map.of(),
                Optional.of(new StopBudget.Basis(8_000, 3_000, OptionalDouble.empty())),
                true,
                ""));
    List<TrialResult> trials =
        List.of(late(0, 480, 3), late(1, 600, 1), late(2, 495, 21), late(3, -200, 2));
    List<Note> notes =
        List.of(
            new Note(BenchNotes.CALIBRATION, CalibrationFile.text(calibrations())),
            new Note(BenchNotes.PROOF, ProofFile.text(proof())));
    return new ReadPage(
        ReportPage.html(
            new Report(Evidence.of(header, trials), Map.of(), notes, "", "", "", LedgerView.NONE)));
  }

  private static TrialResult late(int index, int error, long worstMs) {
    TrialResult t = SampleRun.stop(index, error);
    return new TrialResult(
        t.index(),
        t.condition(),
        t.seed(),
        t.expectation(),
        t.verdict(),
        t.code(),
        t.message(),
        t.stopped(),
        t.remainingMicrons(),
        t.stopErrorMicrons(),
        t.deepestMicrons(),
        t.readingMicrons(),
        t.state(),
        t.reason(),
        t.trust(),
        t.cause(),
        t.stopTimeNs(),
        t.durationNs(),
        t.steps(),
        worstMs * 1_000_000,
        t.stateHash(),
        t.chain());
  }

  private static ProofRecord proof() {
    return new ProofRecord(
        HARDWARE,
        DAY,
        DAY.plusDays(30),
        List.of(new Finding("rest", Finding.Outcome.PASS, "0.2 rpm", "1 rpm", "at rest")),
        1_700,
        12,
        new ProofRecord.Lateness(5_000, 10_000, 200_000, 3_000_000, 4_500_000));
  }

  private static Calibrations calibrations() {
    List<CalibrationRecord> records = new ArrayList<>();
    add(records, Quantity.LADDER, 1, 2, 3);
    add(records, Quantity.STAGE_SCALE, 3, 5, 7);
    add(records, Quantity.STAGE_BACKLASH, -7, -8, -9);
    add(records, Quantity.LINK_LATENCY, 4, 5, 6);
    add(records, Quantity.MOTOR_COAST, 28, 30, 32);
    return new Calibrations("B-1", records);
  }

  private static void add(
      List<CalibrationRecord> records, Quantity quantity, long first, long second, long third) {
    List<Long> readings = new ArrayList<>();
    for (int i = 0; i < 7; i++) {
      readings.addAll(List.of(first * 1_000, second * 1_000, third * 1_000));
    }
    records.add(
        new CalibrationRecord(
            quantity,
            readings,
            "meter",
            "C-1",
            600,
            2_000,
            DAY,
            DAY.plusDays(30),
            21_500,
            "A",
            false,
            ""));
  }
}
