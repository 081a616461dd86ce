package org.stopwell.rig.calibration;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.virtual.VirtualBench;

class CalibratorTest {
  private static final long MS = 1_000_000;
  private static final LocalDate DAY = LocalDate.of(2026, 3, 2);

  @ParameterizedTest
  @EnumSource(
      value = Quantity.class,
      mode = EnumSource.Mode.EXCLUDE,
      names = "CAPACITORS") // which a model has none of
  void aSimulatedBenchIsCalibratedWithNobodyThere(Quantity quantity) throws Exception {
    try (VirtualBench bench = open()) {
      List<Long> readings =
          new Calibrator(bench, Attendant.NOBODY, new ForgottenNotebook(), 7)
              .readings(quantity)
              .orElseThrow();
      CalibrationRecord record = record(quantity, readings);
      if (quantity.group() == Quantity.Group.DEVICE) {
        assertTrue(quantity.limit().holds(readings), quantity + " " + readings);
        return;
      }
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
              new Calibrator(bench, Attendant.NOBODY, new ForgottenNotebook(), 1)
                  .readings(Quantity.MOTOR_COAST)
                  .orElseThrow());
      assertEquals(0, coast.spread());
      assertTrue(coast.mean() > 1, "a motor does not stop at once: " + coast.mean() + " ms");
    }
  }

  @ParameterizedTest
  @EnumSource(
      value = Quantity.class,
      names = {"LADDER", "STAGE_SCALE", "STAGE_BACKLASH", "ENCODER_ZERO", "CAPACITORS"})
  void atABenchOfMatterNobodyThereIsNoReading(Quantity quantity) throws Exception {
    try (VirtualBench bench = open()) {
      assertEquals(
          Optional.empty(),
          new Calibrator(new OfMatter(bench), Attendant.NOBODY, new ForgottenNotebook(), 1)
              .readings(quantity));
    }
  }

  @Test
  void theLadderIsWhatTheBenchTakesMinusWhatTheMeterShows() throws Exception {
    try (VirtualBench bench = open()) {
      List<Long> readings =
          new Calibrator(
                  new OfMatter(bench), typing(with(ladder(0, 14), "y")), new ForgottenNotebook(), 1)
              .readings(Quantity.LADDER)
              .orElseThrow();
      assertEquals(Collections.nCopies(14, 250L), readings);
    }
  }

  /** Broken off after two of three; the rest is asked for when somebody comes back. */
  @Test
  void capacitorsAreReadLikeResistorsAndMayBeBrokenOff() throws Exception {
    Notebook notes = new ForgottenNotebook();
    try (VirtualBench bench = open()) {
      List<String> half = List.of("3", "68", "69.5", "150", "148", "220", "", "y");
      assertEquals(
          Optional.empty(),
          new Calibrator(new OfMatter(bench), typing(half), notes, 1)
              .readings(Quantity.CAPACITORS));
      assertEquals(
          Optional.of(List.of(-1_500L, 2_000L, 0L)),
          new Calibrator(new OfMatter(bench), typing(List.of("3", "220", "220", "y")), notes, 1)
              .readings(Quantity.CAPACITORS));
    }
  }

  @Test
  void aBoardWithoutCapacitorsHasNothingToRead() throws Exception {
    try (VirtualBench bench = open()) {
      assertEquals(
          Optional.empty(),
          new Calibrator(new OfMatter(bench), typing(List.of("0")), new ForgottenNotebook(), 1)
              .readings(Quantity.CAPACITORS));
      assertTrue(
          !new Calibrations("B-1", List.of())
              .missing(Quantity.Group.CONTROLLER)
              .contains(Quantity.CAPACITORS),
          "only a plan with a network needs them");
    }
  }

  /** Typed up to the ninth resistor and half of the tenth, then nobody: nine are taken. */
  @Test
  void aLadderThatIsBrokenOffGoesOnWithTheNextResistor() throws Exception {
    Notebook notes = new ForgottenNotebook();
    try (VirtualBench bench = open()) {
      List<String> half = new ArrayList<>(ladder(0, 9));
      half.add("900");
      half.add(""); // nobody knows the rest, and the board is plugged in again
      half.add("y");
      assertEquals(
          Optional.empty(),
          new Calibrator(new OfMatter(bench), typing(half), notes, 1).readings(Quantity.LADDER));
      assertEquals(Collections.nCopies(9, 250L), notes.taken(Quantity.LADDER));
      assertEquals(
          Optional.of(Collections.nCopies(14, 250L)),
          new Calibrator(new OfMatter(bench), typing(with(ladder(9, 14), "y")), notes, 1)
              .readings(Quantity.LADDER));
    }
  }

  @Test
  void aBenchThatFailsInTheMiddleLosesNoReading() throws Exception {
    Notebook notes = new ForgottenNotebook();
    try (VirtualBench bench = open()) {
      Bench failing =
          new OfMatter(bench) {
            private int mounts;

            @Override
            public void mount(Scene scene) throws BenchException {
              if (++mounts == 6) {
                throw new BenchException(BenchException.RigFault.PORT_GONE, "pulled");
              }
              super.mount(scene);
            }
          };
      List<String> blocks = Collections.nCopies(10, "y");
      List<String> typed = new ArrayList<>();
      blocks.forEach(y -> typed.addAll(List.of("5", y)));
      assertThrows(
          BenchException.class,
          () -> new Calibrator(failing, typing(typed), notes, 1).readings(Quantity.STAGE_SCALE));
      assertEquals(Collections.nCopies(2, -5_000_000L), notes.taken(Quantity.STAGE_SCALE));
    }
  }

  @Test
  void theSimulatedReferenceShowsTheSameWhereverItIsBrokenOff() throws Exception {
    try (VirtualBench bench = open()) {
      List<Long> whole =
          new Calibrator(bench, Attendant.NOBODY, new ForgottenNotebook(), 7)
              .readings(Quantity.STAGE_SCALE)
              .orElseThrow();
      Notebook begun = new ForgottenNotebook();
      whole.subList(0, 2).forEach(r -> begun.take(Quantity.STAGE_SCALE, r));
      assertEquals(
          Optional.of(whole),
          new Calibrator(bench, Attendant.NOBODY, begun, 7).readings(Quantity.STAGE_SCALE));
    }
  }

  @Test
  void aStageThatDoesNotMoveIsShortByTheWholeBlock() throws Exception {
    try (VirtualBench bench = open()) {
      List<String> typed = List.of("5", "y", "5", "y", "5", "y", "5", "y", "5", "y");
      List<Long> readings =
          new Calibrator(new OfMatter(bench), typing(typed), new ForgottenNotebook(), 1)
              .readings(Quantity.STAGE_SCALE)
              .orElseThrow();
      assertEquals(Collections.nCopies(5, -5_000_000L), readings);
    }
  }

  @Test
  void theMotorOfABenchOfMatterTurnsOnlyWhenSomebodySaysThatAllIsClear() throws Exception {
    try (VirtualBench bench = open()) {
      Bench matter = new OfMatter(bench);
      assertEquals(
          Optional.empty(),
          new Calibrator(matter, typing(List.of("n")), new ForgottenNotebook(), 1)
              .readings(Quantity.MOTOR_COAST));
      assertEquals(
          10,
          new Calibrator(matter, typing(List.of("y")), new ForgottenNotebook(), 1)
              .readings(Quantity.MOTOR_COAST)
              .orElseThrow()
              .size());
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
    assertEquals(List.of(), all.overdue(Quantity.Group.CONTROLLER, DAY.plusDays(1)));
    assertEquals(List.of(Quantity.LADDER), all.overdue(Quantity.Group.CONTROLLER, DAY.plusDays(2)));
    assertEquals(5, all.missing(Quantity.Group.CONTROLLER).size());
  }

  private static CalibrationRecord record(Quantity quantity, List<Long> readings) {
    return new CalibrationRecord(
        quantity, readings, "meter", "C-1", 1_000, 2_000, DAY, DAY, 21_000, "A. B.", true, "");
  }

  private static CalibrationRecord dated(LocalDate date, LocalDate due) {
    return new CalibrationRecord(
        Quantity.LADDER,
        List.of(1L, 2L),
        "meter",
        "C-1",
        1,
        2_000,
        date,
        due,
        21_000,
        "A",
        true,
        "");
  }

  private static VirtualBench open() {
    VirtualBench bench = new VirtualBench(MS);
    bench.open();
    return bench;
  }

  private static List<String> with(List<String> typed, String more) {
    List<String> all = new ArrayList<>(typed);
    all.add(more);
    return all;
  }

  /** What is typed for resistors that the bench takes for 0.25 Ω more than the meter shows. */
  private static List<String> ladder(int from, int to) {
    List<String> typed = new ArrayList<>();
    for (int k = from; k < to; k++) {
      typed.add(String.valueOf(100 * k + 100));
      typed.add(100 * k + 99 + ".75");
    }
    return typed;
  }

  private static Attendant typing(List<String> typed) {
    Iterator<String> answers = typed.iterator();
    return new Attendant() {
      @Override
      public void tell(String text) {}

      @Override
      public Optional<String> answer(Question question) {
        return answers.hasNext()
            ? Optional.of(answers.next()).filter(a -> !a.isEmpty())
            : Optional.empty();
      }
    };
  }

  /** A bench that claims to be hardware. */
  private static class OfMatter extends ForwardingBench {
    OfMatter(Bench bench) {
      super(bench);
    }

    @Override
    public BenchDescription describe() {
      BenchDescription d = bench.describe();
      return new BenchDescription(
          d.kind(), d.serialNumber(), d.firmware(), false, d.lockstep(), d.periodNs());
    }
  }
}
