package org.stopwell.harness.budget;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.proof.ProofRecord;

/**
 * Every line of the budget of one stop, from readings whose mean and spread are plain numbers. The
 * reference uncertainty is U/k = 0.6/2. A rectangle of half width a has the uncertainty a/√3.
 */
class StopBudgetTest {
  private static final LocalDate DAY = LocalDate.of(2026, 3, 2);

  /** 3000 Ω per mm: a third of a micrometre per ohm; 8000 Ω at the standoff. */
  private static final StopBudget.Basis BASIS =
      new StopBudget.Basis(8_000, 3_000, OptionalDouble.of(0.02));

  @Test
  void everyLineComesFromItsCalibration() {
    assertEquals(
        """
        stage scale, reference: 0.3000 µm, freedom Infinity, 1.0000
        stage scale, offset left uncorrected: 2.8868 µm, freedom Infinity, 1.0000
        stage scale, one place: 2.0000 µm, freedom 2, 1.0000
        stage backlash, reference: 0.3000 µm, freedom Infinity, 1.0000
        stage backlash, half of it either way: 2.8868 µm, freedom Infinity, 1.0000
        encoder zero, reference: 0.3000 µm, freedom Infinity, 1.0000
        encoder zero, one run to the switch: 1.0000 µm, freedom 2, 1.0000
        ladder, reference: 0.3000 Ω, freedom Infinity, 0.3333
        ladder, offset left uncorrected: 1.1547 Ω, freedom Infinity, 0.3333
        ladder, one place: 1.0000 Ω, freedom 2, 0.3333
        ladder, temperature: 0.5774 Ω, freedom Infinity, 0.3333
        stage encoder, one step: 1.4434 µm, freedom Infinity, 1.0000
        file at rest: 1.7321 µm, freedom Infinity, 1.0000
        ladder against stage, repeated and mounted again: 1.7000 µm, freedom 12, 1.0000
        capacitors, all closed, reference: 0.3000 pF, freedom Infinity, 0.0600
        capacitors, offsets left uncorrected, all closed: 17.3205 pF, freedom Infinity, 0.0200
        """,
        lines(StopBudget.of(calibrations(), proof(1_700), BASIS)));
  }

  @Test
  void whatWasNotCalibratedIsMissing() {
    assertEquals(
        """
        stage encoder, one step: 1.4434 µm, freedom Infinity, 1.0000
        file at rest: 1.7321 µm, freedom Infinity, 1.0000
        """,
        lines(StopBudget.of(new Calibrations("B-1", List.of()), proof(-1), BASIS)));
  }

  @Test
  void inAnExtractedToothTheMeasuredLengthCountsAndNoResistor() {
    StopBudget.Basis tooth =
        new StopBudget.Basis(
            8_000,
            3_000,
            OptionalDouble.of(0.02),
            OptionalDouble.of(60),
            OptionalDouble.of(12),
            false,
            false);
    String lines = lines(StopBudget.of(calibrations(), proof(1_700), tooth));
    assertTrue(
        lines.contains("measured length of the tooth: 60.0000 µm, freedom Infinity, 1.0000"),
        lines);
    assertTrue(
        lines.contains(
            "true zero of the tooth, two observers: 12.0000 µm, freedom Infinity, 1.0000"),
        lines);
    assertFalse(lines.contains("ladder, "), lines);
    assertTrue(lines.contains("ladder against stage"), "the gauge study is of the stage too");
  }

  private static UncertaintyBudget device(OptionalDouble toothMicrons) {
    return StopBudget.of(
        calibrations(),
        proof(1_700),
        new StopBudget.Basis(
            8_000,
            3_000,
            OptionalDouble.empty(),
            toothMicrons,
            OptionalDouble.empty(),
            true,
            false));
  }

  /** Without calibrations of three readings, whose Student's t has no variance to draw. */
  private static UncertaintyBudget deviceAlone(OptionalDouble toothMicrons) {
    return StopBudget.of(
        new Calibrations("B-1", List.of()),
        proof(-1),
        new StopBudget.Basis(
            8_000,
            3_000,
            OptionalDouble.empty(),
            toothMicrons,
            OptionalDouble.empty(),
            true,
            false));
  }

  @Test
  void aDeviceAddsTheShankScaleThePlayOfItsHeadAndInAToothTheRim() {
    String network = lines(device(OptionalDouble.empty()));
    assertTrue(network.contains("shank scale: 5.0000 µm"), network);
    assertTrue(network.contains("axial play of the head: 8.6603 µm"), network);
    assertFalse(network.contains("rim of the foramen"), "no foramen on a network: " + network);
    String tooth = lines(device(OptionalDouble.of(25)));
    assertTrue(tooth.contains("rim of the foramen, 0 to 150 µm, middle taken: 43.3013 µm"), tooth);
    assertTrue(tooth.contains("bend of the file: 11.5470 µm"), tooth);
    assertTrue(tooth.contains("medium of the tooth and its age: 11.5470 µm"), tooth);
    assertTrue(tooth.contains("temperature of the medium, ±1 K: 11.5470 µm"), tooth);
    assertTrue(tooth.contains("measured length of the tooth: 25.0000 µm"), tooth);
  }

  /**
   * JCGM 101, 8.1. A rectangle that dominates, as the rim does, has no tails: drawing then gives
   * less than k = 2, and the larger of both is stated.
   */
  @Test
  void bothMethodsAgreeOnADeviceAndTheLargerCountsWhereTheRimDominates() {
    UncertaintyBudget network = deviceAlone(OptionalDouble.empty());
    MonteCarlo drawn = network.monteCarlo(3, 1_000_000, UncertaintyBudget.COVERAGE);
    assertEquals(network.combined(), drawn.deviation(), 0.1, "u by both");
    assertEquals(network.expanded(0.95), drawn.halfWidth(), 0.1 * drawn.halfWidth());

    UncertaintyBudget tooth = deviceAlone(OptionalDouble.of(25));
    MonteCarlo ofTooth = tooth.monteCarlo(3, 1_000_000, UncertaintyBudget.COVERAGE);
    assertEquals(tooth.combined(), ofTooth.deviation(), 0.2, "u by both");
    assertTrue(tooth.expanded(0.95) > ofTooth.halfWidth(), "the rim has no tails");
    assertEquals((int) Math.ceil(tooth.expanded(0.95)), tooth.stated(ofTooth));
    assertTrue(tooth.stated(ofTooth) < 130, "U95 " + tooth.stated(ofTooth));
  }

  @Test
  void withoutCapacitorsInTheSceneTheirCalibrationDoesNotCount() {
    UncertaintyBudget budget =
        StopBudget.of(
            calibrations(), null, new StopBudget.Basis(8_000, 3_000, OptionalDouble.empty()));
    assertEquals(
        13, budget.inputs().size(), "neither capacitors nor gauge study: " + budget.inputs());
  }

  /** JCGM 100, 5.1.2 and G.4.1, by hand from the lines above. */
  @Test
  void theLinesAddUpAsSquaresAndTheirFreedomByWelchAndSatterthwaite() {
    UncertaintyBudget budget = StopBudget.of(calibrations(), proof(1_700), BASIS);
    double third = 1 / 9.0;
    double squares =
        (0.09 + 25 / 3.0 + 4)
            + (0.09 + 25 / 3.0)
            + (0.09 + 1)
            + third * (0.09 + 4 / 3.0 + 1 + 1 / 3.0)
            + 6.25 / 3
            + 3
            + 2.89
            + 0.018 * 0.018
            + 0.0004 * 300;
    assertEquals(Math.sqrt(squares), budget.combined(), 1e-9);
    double fourths = 16 / 2.0 + 1 / 2.0 + third * third / 2 + 2.89 * 2.89 / 12;
    assertEquals(squares * squares / fourths, budget.effectiveFreedom(), 1e-9);
  }

  /** The spread of a time, 1 ms, at 2 mm/s. */
  @Test
  void latencyAndCoastCountByTheFeed() {
    assertEquals(2, StopBudget.linkShare(calibrations(), 2_000).orElseThrow(), 1e-9);
    assertEquals(4, StopBudget.coastShare(calibrations(), 2_000).orElseThrow(), 1e-9);
  }

  private static String lines(UncertaintyBudget budget) {
    return budget.inputs().stream()
        .map(
            i ->
                String.format(
                    Locale.ROOT,
                    "%s: %.4f %s, freedom %.0f, %.4f%n",
                    i.name(),
                    i.uncertainty(),
                    i.unit(),
                    i.freedom(),
                    i.sensitivity()))
        .collect(Collectors.joining());
  }

  /** Means and spreads: scale 5 and 2, backlash 8 and 1, zero 0 and 1, ladder 2 and 1. */
  private static Calibrations calibrations() {
    List<CalibrationRecord> records = new ArrayList<>();
    add(records, Quantity.LADDER, 1, 2, 3);
    add(records, Quantity.STAGE_SCALE, 3, 5, 7);
    add(records, Quantity.STAGE_BACKLASH, -7, -8, -9);
    add(records, Quantity.ENCODER_ZERO, -1, 0, 1);
    add(records, Quantity.LINK_LATENCY, 4, 5, 6);
    add(records, Quantity.MOTOR_COAST, 28, 30, 32);
    add(records, Quantity.CAPACITORS, 10, -15, 5);
    return new Calibrations("B-1", records);
  }

  private static void add(
      List<CalibrationRecord> records, Quantity quantity, long first, long second, long third) {
    records.add(
        new CalibrationRecord(
            quantity,
            List.of(first * 1_000, second * 1_000, third * 1_000),
            "meter",
            "C-1",
            600,
            2_000,
            DAY,
            DAY.plusDays(30),
            20_000,
            "A",
            false,
            ""));
  }

  private static ProofRecord proof(long gaugeNanometres) {
    return new ProofRecord(
        new BenchDescription("serial", "B-1", "canal 1", false, false, 1_000_000),
        DAY,
        DAY.plusDays(30),
        List.of(),
        gaugeNanometres,
        12,
        new ProofRecord.Lateness(1, 0, 0, 0, 0));
  }
}
