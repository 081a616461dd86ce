package org.stopwell.rig.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.calibration.Attendant;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrator;
import org.stopwell.rig.calibration.ForgottenNotebook;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.proof.Finding.Outcome;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.time.LatenessHistogram;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.virtual.Plant;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * Every value of a proof and of a calibration, beside the one that the model has: the plant is
 * driven directly here, and the ladder of {@link Ladder} is known to the last digit.
 */
class KnownTruthTest {
  private static final long MS = 1_000_000;
  private static final int BODY_OHMS = 6_500;
  private static final int OHM_PER_MM = 3_000;

  @Test
  void aProofStatesWhatTheModelDoes() throws Exception {
    Map<String, Finding> found = prove(new Ladder(25));
    int coastMs = coastOfTheModelMs();
    assertTrue(coastMs > 5, "a motor does not stop at once: " + coastMs + " ms");
    assertFinding(found, "rest", "0.0 rpm", "0.0 ± 1.0 rpm");
    assertFinding(found, "turn", speedOfTheModelRpm(Drive.BACKWARD), "-300.0 ± 6.0 rpm");
    assertFinding(found, "coast", coastMs + " ms", "1000 ms");
    assertFinding(found, "safe stop", "0.0 rpm", "0.0 ± 1.0 rpm");
    assertFinding(found, "watchdog", "0.0 rpm", "0.0 ± 1.0 rpm");
    assertFinding(found, "emergency stop", "0.0 rpm", "0.0 ± 1.0 rpm");
    // In steps of 4 µm the file goes 4 µm past its place, to 996 µm.
    assertFinding(found, "ladder", "9513.0 ohm for 9488.0 ohm", "±285 ohm");
    assertEquals(
        List.of(
            "link", "rest", "turn", "coast", "safe stop", "watchdog", "emergency stop", "ladder"),
        List.copyOf(found.keySet()));
  }

  /** The link check is one exchange after the mount and 2000 more; a model is never late. */
  @Test
  void theLatenessIsThatOfEveryStepOfTheLinkCheck() throws Exception {
    LatenessHistogram lateness = new LatenessHistogram();
    try (Bench bench = new Ladder(0)) {
      bench.open();
      BenchProof.of(bench, Operator.NOBODY, lateness);
    }
    assertEquals(2_001, lateness.steps());
    assertEquals(0, lateness.worstNs());
  }

  @ParameterizedTest
  @CsvSource({"PASS, 0, true", "FAIL, 5, true", "NOT_DONE, 5, false", "PASS, -1, false"})
  void aProofIsCompleteWhenEveryCheckAndTheStudyWereDone(
      Outcome outcome, long gaugeNanometres, boolean complete) {
    LocalDate day = LocalDate.of(2026, 3, 2);
    ProofRecord record =
        new ProofRecord(
            new VirtualBench(MS).describe(),
            day,
            day,
            List.of(
                new Finding("rest", Outcome.PASS, "", "", ""),
                new Finding("turn", outcome, "", "", "")),
            gaugeNanometres,
            30,
            new ProofRecord.Lateness(1, 0, 0, 0, 0));
    assertEquals(complete, record.complete());
    assertEquals(outcome == Outcome.FAIL, record.failed());
  }

  /** 3 % of 9488 Ω are 284.6 Ω. */
  @ParameterizedTest
  @CsvSource({"284, PASS", "286, FAIL", "-284, PASS", "-286, FAIL"})
  void aLadderThatIsOffByMoreThanItMayFails(int offOhms, Outcome outcome) throws Exception {
    Finding ladder = finding(prove(new Ladder(offOhms)), "ladder");
    assertEquals(outcome, ladder.outcome(), ladder.toString());
  }

  /** A place of the stage that is wrong by 0.1 mm is 300 Ω. */
  @ParameterizedTest
  @CsvSource({"94, PASS", "108, FAIL"})
  void soDoesAStageThatIsNotWhereItSays(int offMicrons, Outcome outcome) throws Exception {
    Bench bench =
        new Ladder(0) {
          @Override
          public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
              throws BenchException {
            super.exchange(nowNs, command, reading);
            truth().remainingMicrons += offMicrons;
          }
        };
    Finding ladder = finding(prove(bench), "ladder");
    assertEquals(outcome, ladder.outcome(), ladder.toString());
  }

  /** 30 Ω too much on a ladder of 3000 Ω/mm look like 10 µm, at every place and each time. */
  @Test
  void theReadingsOfAGaugeStudyAreTheDisagreementOfTheTwoScales() throws Exception {
    try (Bench bench = new Ladder(30)) {
      bench.open();
      GaugeRun run = GaugeRun.of(bench, Operator.NOBODY, List.of(), () -> {});
      List<List<Long>> place = List.of(tens(3), tens(3), tens(3));
      assertEquals(List.of(place, place, place, place, place), run.nanometres());
      assertEquals(GaugeRun.MOUNTS, run.appraisers());
    }
  }

  /** Two readings of a model with one seed would have one noise. */
  @Test
  void eachReadingOfAGaugeStudyHasNoiseOfItsOwn() throws Exception {
    Set<Long> seeds = new HashSet<>();
    Bench bench =
        new Ladder(0) {
          @Override
          public void mount(Scene scene) throws BenchException {
            seeds.add(scene.seed());
            super.mount(scene);
          }
        };
    try (bench) {
      bench.open();
      GaugeRun.of(bench, Operator.NOBODY, List.of(), () -> {});
    }
    assertEquals(45, seeds.size());
  }

  /** A motor that is reversed at full speed says nothing of either direction alone. */
  @Test
  void betweenForwardAndBackwardTheMotorRestsForASecond() throws Exception {
    List<Drive> orders = new ArrayList<>();
    prove(
        new Ladder(0) {
          @Override
          public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
              throws BenchException {
            orders.add(command.drive);
            super.exchange(nowNs, command, reading);
          }
        });
    int backward = orders.indexOf(Drive.BACKWARD);
    assertEquals(Collections.nCopies(1_000, Drive.OFF), orders.subList(backward - 1_000, backward));
    assertEquals(Drive.FORWARD, orders.get(backward - 1_001));
  }

  private static List<Long> tens(int count) {
    return IntStream.range(0, count).mapToObj(i -> 10_000L).toList();
  }

  /** The steps of a link, sorted: 1 ms, 2 ms and so on up to 200 ms. */
  @Test
  void theLinkStatesHalfAndNinetyNinePercentOfItsExchanges() {
    long[] took = IntStream.rangeClosed(1, 200).mapToLong(ms -> ms * MS).toArray();
    Punctuality steps = new Punctuality();
    steps.add(0, 3 * MS, 9 * MS);
    steps.add(8 * MS, 12 * MS, 15 * MS);
    Finding link = BenchProof.inTime(20 * MS, took, steps, 2 * MS);
    assertEquals("latest step 4.000 ms late, of it this computer 3.000 ms", link.measured());
    assertEquals("20 ms late", link.limit());
    assertEquals(
        "200 exchanges with the motor off, each answered, half of them within 101.000 ms, 99 %"
            + " within 199.000 ms.",
        link.text());
  }

  /** A bench that needs 0.2 ms for each exchange: no one is quicker, and together they took it. */
  @Test
  void theTimesOfTheExchangesAreThoseOfTheClock() throws Exception {
    Bench slow =
        new Ladder(0) {
          @Override
          public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
              throws BenchException {
            MachineClock.waitNs(MS / 5);
            super.exchange(nowNs, command, reading);
          }
        };
    long beganNs = MachineClock.nowNs();
    List<Long> micros = calibrate(slow, Quantity.LINK_LATENCY).readingsThousandths();
    long tookMicros = (MachineClock.nowNs() - beganNs) / 1_000;
    assertEquals(500, micros.size());
    assertTrue(micros.stream().allMatch(m -> m >= 200), micros.toString());
    assertTrue(micros.stream().mapToLong(m -> m).sum() <= tookMicros, micros.toString());
  }

  @Test
  void theCoastOfACalibrationIsThatOfTheModel() throws Exception {
    List<Long> coasts = calibrate(new Ladder(0), Quantity.MOTOR_COAST).readingsThousandths();
    assertEquals(
        IntStream.range(0, 10).mapToObj(i -> coastOfTheModelMs() * 1_000L).toList(), coasts);
  }

  /** The bench takes each place of its ladder for 0.25 Ω more than it is. */
  @Test
  void aLadderIsWhatTheBenchMeasuresMinusWhatTheReferenceShows() throws Exception {
    List<Long> wanted = IntStream.range(0, 5).mapToObj(i -> error("ladder", i, 0.25)).toList();
    CalibrationRecord record = calibrate(new Ladder(0.25), Quantity.LADDER);
    for (int i = 0; i < 5; i++) {
      assertEquals(wanted.get(i), record.readingsThousandths().get(i), 1, record.toString());
    }
    double mean = wanted.stream().mapToLong(e -> e).average().orElseThrow() / 1e3;
    assertEquals(mean, record.mean(), 2e-3);
  }

  /** The model's stage is where it says: what is left is the error of the simulated reference. */
  @ParameterizedTest
  @EnumSource(
      value = Quantity.class,
      names = {"STAGE_SCALE", "STAGE_BACKLASH", "ENCODER_ZERO"})
  void aStageIsOffByTheErrorOfTheReferenceAlone(Quantity quantity) throws Exception {
    long first = quantity == Quantity.ENCODER_ZERO ? error(quantity.key(), 0, 0) : 0;
    List<Long> wanted =
        IntStream.range(0, 5).mapToObj(i -> error(quantity.key(), i, 0) - first).toList();
    assertEquals(wanted, calibrate(new Ladder(0), quantity).readingsThousandths());
  }

  /** Thousandths by which a bench is off that shows so much too much. */
  private static long error(String quantity, int index, double off) {
    RandomStream chance = RandomStream.of(7, "simulated reference, " + quantity + ", " + index);
    return Math.round((off - 0.5 * chance.nextGaussian()) * 1e3);
  }

  private static CalibrationRecord calibrate(Bench bench, Quantity quantity) throws Exception {
    try (bench) {
      bench.open();
      LocalDate day = LocalDate.of(2026, 3, 2);
      return new CalibrationRecord(
          quantity,
          new Calibrator(bench, Attendant.NOBODY, new ForgottenNotebook(), 7)
              .readings(quantity)
              .orElseThrow(),
          "meter",
          "C-1",
          1_000,
          2_000,
          day,
          day,
          21_000,
          "A. B.",
          true,
          "");
    }
  }

  private static Map<String, Finding> prove(Bench bench) throws Exception {
    try (bench) {
      bench.open();
      return BenchProof.of(bench, Operator.NOBODY, new LatenessHistogram()).stream()
          .collect(Collectors.toMap(Finding::check, f -> f, (a, b) -> a, LinkedHashMap::new));
    }
  }

  private static Finding finding(Map<String, Finding> found, String check) {
    return Objects.requireNonNull(found.get(check), check);
  }

  private static void assertFinding(
      Map<String, Finding> found, String check, String measured, String limit) {
    Finding finding = finding(found, check);
    assertEquals(
        List.of(Outcome.PASS, measured, limit),
        List.of(finding.outcome(), finding.measured(), finding.limit()),
        finding.toString());
  }

  /** From 300 rpm without power until the motor turns at less than 1 rpm: by the plant itself. */
  private static int coastOfTheModelMs() {
    try {
      Model model = new Model();
      model.go(1_000, Drive.FORWARD);
      int ms = 0;
      while (Math.abs(model.milliRpm()) > 1_000) {
        model.go(1, Drive.OFF);
        ms++;
      }
      return ms;
    } catch (Exception e) {
      throw new AssertionError(e);
    }
  }

  private static String speedOfTheModelRpm(Drive drive) throws Exception {
    Model model = new Model();
    model.go(1_000, Drive.FORWARD);
    model.go(1_000, Drive.OFF);
    model.go(1_000, drive);
    return String.format(Locale.ROOT, "%.1f rpm", model.milliRpm() / 1e3);
  }

  /** A plant with its file in the air. */
  private static final class Model {
    private final Plant plant;
    private final ControllerOutput command = new ControllerOutput();
    private final ControllerInput reading = new ControllerInput();
    private long nowMs;

    Model() throws Exception {
      plant =
          new Plant(
              Scene.of(
                  Map.of(
                      "canal",
                      Map.of("kind", "resistors"),
                      "hand",
                      Map.of("start_above_mm", 20, "feed_mm_per_s", "0.01")),
                  1));
      command.torqueLimitMicroNewtonMetres = 6_000;
      go(0, Drive.OFF);
    }

    void go(int ms, Drive drive) {
      command.drive = drive;
      command.speedMilliRpm = drive == Drive.OFF ? 0 : 300_000;
      for (int i = 0; i < ms; i++) {
        nowMs++;
        plant.advance(nowMs * MS, command);
      }
    }

    int milliRpm() {
      plant.read(reading);
      return reading.speedMilliRpm;
    }
  }

  /** A virtual bench whose ladder shows exactly what its place asks for, and so much more. */
  private static class Ladder extends ForwardingBench {
    private final double offOhms;

    Ladder(double offOhms) {
      super(new VirtualBench(MS));
      this.offOhms = offOhms;
    }

    @Override
    public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
        throws BenchException {
      bench.exchange(nowNs, command, reading);
      double ohms = BODY_OHMS + OHM_PER_MM * truth().remainingMicrons / 1e3 + offOhms;
      // The magnitude counts: three fifths and four fifths of it.
      reading.zRealMilliOhms[0] = (int) Math.round(600 * ohms);
      reading.zImagMilliOhms[0] = (int) Math.round(-800 * ohms);
    }
  }
}
