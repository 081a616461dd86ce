package org.stopwell.harness.standing;

import java.io.IOException;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.calibration.Attendant;
import org.stopwell.rig.calibration.CalibrationJournal;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Calibrator;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.time.Utc;

/** The steps of a calibration, the same for a terminal, a file of answers and the console. */
public final class CalibrationSteps {
  private static final long USUAL_COVERAGE_THOUSANDTHS = 2_000;
  private static final int SIMULATED_ROOM_MILLI_CELSIUS = 20_000;

  private final Bench bench;
  private final BenchRecords kept;
  private final Attendant attendant;
  private final CalibrationJournal journal;
  private final Calibrator calibrator;
  private final int months;
  private final long seed;
  private @Nullable String operator;

  /**
   * Steps at an open bench; every answer is recorded as typed.
   *
   * @param bench the bench, open
   * @param kept where its records go
   * @param attendant who answers
   * @param operator their code; null to ask for it
   * @param months how long a calibration holds
   * @param seed of the simulated reference
   */
  public CalibrationSteps(
      Bench bench,
      BenchRecords kept,
      Attendant attendant,
      @Nullable String operator,
      int months,
      long seed) {
    this.bench = bench;
    this.kept = kept;
    this.attendant = kept.recording(attendant);
    this.journal = kept.journal();
    this.calibrator = new Calibrator(bench, this.attendant, journal, seed);
    this.operator = operator;
    this.months = months;
    this.seed = seed;
  }

  /**
   * One step. The readings of a step that was broken off stay, and the next try goes on with them.
   *
   * @param quantity what is calibrated
   * @param again also when it was done today
   * @return false when nobody did it, or a reading is outside its limit
   * @throws BenchException when the bench fails
   * @throws PlanException when the records are wrong
   * @throws IOException when the disk refuses
   */
  public boolean step(Quantity quantity, boolean again)
      throws BenchException, PlanException, IOException {
    LocalDate today = Utc.today();
    Calibrations before = kept.calibrations();
    attendant.tell("");
    attendant.tell(
        (Quantity.of(quantity.group()).indexOf(quantity) + 1)
            + " of "
            + Quantity.of(quantity.group()).size()
            + "  "
            + quantity.key()
            + ": "
            + quantity.text());
    Optional<CalibrationRecord> done =
        before.inForce(quantity).filter(r -> r.date().equals(today) && !again);
    if (done.isPresent()) {
      attendant.tell("Done today: " + line(done.get()));
      return isWithinLimit(done.get());
    }
    if (again) {
      journal.anew(quantity);
    }
    Optional<CalibrationRecord> record =
        calibrator.readings(quantity).flatMap(readings -> record(quantity, readings, today));
    if (record.isEmpty()) {
      int taken = journal.taken(quantity).size();
      if (quantity.isOptional() && taken == 0) {
        attendant.tell("Skipped: only a bench with this part needs the step.");
        return true;
      }
      attendant.tell(
          "Not done: no values were entered."
              + (taken == 0
                  ? ""
                  : " " + taken + " readings are kept; start the command again to continue."));
      return false;
    }
    kept.keep(before.with(record.get()));
    if (quantity.source() == Quantity.Source.TYPED) {
      journal.finished(quantity);
    }
    attendant.tell(line(record.get()));
    if (!isWithinLimit(record.get())) {
      attendant.tell(
          "Outside the limit: verdicts stay UNDECIDED. Correct the board or its calibration.h, then"
              + " repeat this step --again.");
    }
    return isWithinLimit(record.get());
  }

  private static boolean isWithinLimit(CalibrationRecord r) {
    return r.quantity().limit().holds(r.readingsThousandths());
  }

  /** The reference of the readings. */
  private record Reference(
      String instrument, String certificate, long uncertainty, long coverage) {}

  /** Adds what only the operator knows; empty if not given. */
  private Optional<CalibrationRecord> record(
      Quantity quantity, List<Long> readings, LocalDate today) {
    boolean simulated = bench.describe().simulated();
    if (operator == null) {
      operator = simulated ? "nobody" : attendant.words("Your operator code").orElse(null);
    }
    String who = operator;
    if (who == null) {
      return Optional.empty();
    }
    return reference(quantity)
        .flatMap(
            reference ->
                temperature()
                    .map(
                        milliCelsius ->
                            new CalibrationRecord(
                                quantity,
                                readings,
                                reference.instrument,
                                reference.certificate,
                                reference.uncertainty,
                                reference.coverage,
                                today,
                                today.plusMonths(months),
                                milliCelsius,
                                who,
                                simulated,
                                bench.describe().setup())));
  }

  private Optional<Integer> temperature() {
    return bench.describe().simulated()
        ? Optional.of(SIMULATED_ROOM_MILLI_CELSIUS)
        : attendant.thousandths("Room temperature", "°C", -40, 80).map(t -> (int) (long) t);
  }

  private Optional<Reference> reference(Quantity quantity) {
    if (quantity.source() == Quantity.Source.MEASURED) {
      boolean byClock = quantity.group() == Quantity.Group.CONTROLLER;
      return Optional.of(
          new Reference(
              byClock ? "clock of the host" : "the device board itself",
              "none",
              0,
              USUAL_COVERAGE_THOUSANDTHS));
    }
    if (bench.describe().simulated()) {
      return Optional.of(
          new Reference(
              "simulated reference, seed " + seed,
              "none",
              Math.round(USUAL_COVERAGE_THOUSANDTHS * quantity.simulatedDeviation()),
              USUAL_COVERAGE_THOUSANDTHS));
    }
    Optional<String> instrument = attendant.words("Reference instrument, maker and serial number");
    Optional<String> certificate =
        instrument.flatMap(i -> attendant.words("Number of its certificate, or none"));
    Optional<Long> uncertainty =
        certificate.flatMap(
            c -> attendant.thousandths("Its expanded uncertainty", quantity.sign(), 0, 1e5));
    return uncertainty
        .flatMap(u -> attendant.thousandths("with coverage factor k", "", 1, 10))
        .map(
            k ->
                new Reference(
                    instrument.orElseThrow(),
                    certificate.orElseThrow(),
                    uncertainty.orElseThrow(),
                    k));
  }

  private static String line(CalibrationRecord r) {
    String limit = r.quantity().limit().words(r.quantity().sign());
    return String.format(
        Locale.ROOT,
        "%d readings, mean %+.3f %s, spread %.3f %s;%s due %s",
        r.readingsThousandths().size(),
        r.mean(),
        r.quantity().sign(),
        r.spread(),
        r.quantity().sign(),
        limit.isEmpty()
            ? ""
            : String.format(
                Locale.ROOT,
                " %s, limit %s: %s;",
                r.extremes(),
                limit,
                isWithinLimit(r) ? "PASS" : "FAIL"),
        r.due());
  }
}
