package org.stopwell.rig.calibration;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.virtual.VirtualBench;

class CalibratorTest {
  private static final long MS = 1_000_000;
  private static final LocalDate DAY = LocalDate.of(2026, 3, 2);

  @ParameterizedTest
  @EnumSource(Quantity.class)
  void aSimulatedBenchIsCalibratedWithNobodyThere(Quantity quantity) throws Exception {
    try (VirtualBench bench = open()) {
      List<Long> readings =
          new Calibrator(bench, Attendant.NOBODY, 7).readings(quantity).orElseThrow();
      CalibrationRecord record = record(quantity, readings);
      double limit = quantity.source() == Quantity.Source.TYPED ? 25 : 1_000;
      assertTrue(Math.abs(record.mean()) < limit, quantity + ": mean " + record.mean());
      assertTrue(record.spread() >= 0 && record.spread() < limit, quantity + " " + record.spread());
    }
  }

  @Test
  void theCoastOfTheModelIsTheSameEveryTime() throws Exception {
    try (VirtualBench bench = open()) {
      CalibrationRecord coast =
          record(
              Quantity.MOTOR_COAST,
              new Calibrator(bench, Attendant.NOBODY, 1)
                  .readings(Quantity.MOTOR_COAST)
                  .orElseThrow());
      assertEquals(0, coast.spread());
      assertTrue(coast.mean() > 1, "a motor does not stop at once: " + coast.mean() + " ms");
    }
  }

  @ParameterizedTest
  @EnumSource(
      value = Quantity.class,
      names = {"LADDER", "STAGE_SCALE", "STAGE_BACKLASH", "ENCODER_ZERO"})
  void atABenchOfMatterNobodyThereIsNoReading(Quantity quantity) throws Exception {
    try (VirtualBench bench = open()) {
      assertEquals(
          Optional.empty(),
          new Calibrator(new OfMatter(bench), Attendant.NOBODY, 1).readings(quantity));
    }
  }

  @Test
  void theLadderIsWhatTheBenchTakesMinusWhatTheMeterShows() throws Exception {
    try (VirtualBench bench = open()) {
      List<Double> answers = new ArrayList<>();
      for (int k = 0; k < 14; k++) {
        answers.addAll(List.of(100.0 * k, 100.0 * k - 0.25));
      }
      Iterator<Double> typed = answers.iterator();
      List<Long> readings =
          new Calibrator(new OfMatter(bench), typing(typed), 1)
              .readings(Quantity.LADDER)
              .orElseThrow();
      assertEquals(java.util.Collections.nCopies(14, 250L), readings);
    }
  }

  @Test
  void aStageThatDoesNotMoveIsShortByTheWholeBlock() throws Exception {
    try (VirtualBench bench = open()) {
      Iterator<Double> typed =
          Arrays.asList(5.0, 0.0, 5.0, 0.0, 5.0, 0.0, 5.0, 0.0, 5.0, 0.0).iterator();
      List<Long> readings =
          new Calibrator(new OfMatter(bench), typing(typed), 1)
              .readings(Quantity.STAGE_SCALE)
              .orElseThrow();
      assertEquals(java.util.Collections.nCopies(5, -5_000_000L), readings);
    }
  }

  /** Worked by hand: 1, 2, 3, 4, 10 have mean 4 and s² = (9 + 4 + 1 + 0 + 36)/4 = 12.5. */
  @Test
  void meanAndSpreadAreThoseOfTheReadings() {
    CalibrationRecord record =
        record(Quantity.STAGE_SCALE, List.of(1_000L, 2_000L, 3_000L, 4_000L, 10_000L));
    assertEquals(4, record.mean(), 1e-12);
    assertEquals(Math.sqrt(12.5), record.spread(), 1e-12);
    assertEquals(0.5, record.referenceUncertainty(), 1e-12);
  }

  @Test
  void oneReadingHasNoSpread() {
    assertThrows(
        IllegalArgumentException.class, () -> record(Quantity.STAGE_SCALE, List.of(1_000L)));
  }

  @Test
  void theNewestOfAQuantityIsInForceAndGoodUntilItsDueDate() {
    CalibrationRecord old = dated(DAY.minusYears(1), DAY.minusDays(1));
    CalibrationRecord fresh = dated(DAY, DAY.plusDays(1));
    Calibrations all = new Calibrations("B-1", List.of(fresh, old));
    assertEquals(Optional.of(fresh), all.inForce(Quantity.LADDER));
    assertEquals(List.of(), all.overdue(DAY.plusDays(1)));
    assertEquals(List.of(Quantity.LADDER), all.overdue(DAY.plusDays(2)));
    assertEquals(5, all.missing().size());
  }

  private static CalibrationRecord record(Quantity quantity, List<Long> readings) {
    return new CalibrationRecord(
        quantity, readings, "meter", "C-1", 1_000, 2_000, DAY, DAY, 21_000, "A. B.", true);
  }

  private static CalibrationRecord dated(LocalDate date, LocalDate due) {
    return new CalibrationRecord(
        Quantity.LADDER, List.of(1L, 2L), "meter", "C-1", 1, 2_000, date, due, 21_000, "A", true);
  }

  private static VirtualBench open() {
    VirtualBench bench = new VirtualBench(MS);
    bench.open();
    return bench;
  }

  private static Attendant typing(Iterator<Double> typed) {
    return new Attendant() {
      @Override
      public void tell(String text) {}

      @Override
      public Optional<Double> number(String question, String unit) {
        return typed.hasNext() ? Optional.of(typed.next()) : Optional.empty();
      }
    };
  }

  /** A bench that says that it is made of matter. */
  private record OfMatter(Bench bench) implements Bench {
    @Override
    public BenchDescription describe() {
      BenchDescription d = bench.describe();
      return new BenchDescription(
          d.kind(), d.serialNumber(), d.firmware(), false, d.lockstep(), d.periodNs());
    }

    @Override
    public void open() throws BenchException {
      bench.open();
    }

    @Override
    public void mount(Scene scene) throws BenchException {
      bench.mount(scene);
    }

    @Override
    public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
        throws BenchException {
      bench.exchange(nowNs, command, reading);
    }

    @Override
    public Truth truth() {
      return bench.truth();
    }

    @Override
    public void safeStop() {
      bench.safeStop();
    }

    @Override
    public void close() {
      bench.close();
    }
  }
}
