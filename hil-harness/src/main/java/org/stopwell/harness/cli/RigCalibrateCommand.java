package org.stopwell.harness.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.calibration.Attendant;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Calibrator;
import org.stopwell.rig.calibration.Quantity;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Calibrates a bench, step by step. */
@Command(
    name = "calibrate",
    description = {
      "Calibrates a bench step by step. Each step says what to do, takes the numbers that you type or"
          + " measures by itself, shows mean and spread, and writes a record with instrument,"
          + " certificate, uncertainty, date, due date and temperature.",
      "",
      "Every finished step is on the disk: break off at any time and start again, and the steps of"
          + " today are skipped; what you type is kept as you typed it, besides. Numbers may also come from a file: stopwell rig calibrate … < FILE,"
          + " one answer a line.",
      "",
      "A simulated bench is read against a simulated reference, with nobody there; its records say so"
          + " and never count for a bench of matter.",
      "",
      "Exit code 0 when every step is done, 5 when one was left out."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell rig calibrate --bench emulated",
      "  stopwell rig calibrate --bench serial --port /dev/ttyUSB0 --operator \"A. Mori\"",
      "  stopwell rig calibrate --bench emulated --step motor_coast --again"
    },
    mixinStandardHelpOptions = true)
final class RigCalibrateCommand implements Callable<Integer> {
  @Mixin BenchOptions benches = new BenchOptions();

  @Mixin RecordsOption records = new RecordsOption();

  @Option(
      names = "--step",
      paramLabel = "STEP",
      description =
          "Only this step: ladder, stage_scale, stage_backlash, encoder_zero, link_latency or"
              + " motor_coast.")
  @Nullable String step;

  @Option(names = "--again", description = "Also the steps that were done today.")
  boolean again;

  @Option(
      names = "--operator",
      paramLabel = "NAME",
      description = "Who calibrates; asked for unless told.")
  @Nullable String operator;

  @Option(
      names = "--months",
      paramLabel = "N",
      description = "How long the calibration holds; ${DEFAULT-VALUE} unless told.",
      defaultValue = "12")
  int months = 12;

  @Option(
      names = "--seed",
      paramLabel = "N",
      description = "Seed of the simulated reference.",
      defaultValue = "1")
  long seed = 1;

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  private @Nullable BufferedReader typed;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = Objects.requireNonNull(spec).commandLine().getOut();
    if (!(months >= 1 && months <= 60)) {
      throw new UsageException("--months " + months + " is outside 1 to 60");
    }
    List<Quantity> steps = steps();
    try (Bench bench = benches.maker().open()) {
      BenchDescription board = bench.describe();
      BenchRecords kept = records.of(board, benches.station);
      out.println(
          "Calibration of "
              + board.kind()
              + ", "
              + board.serialNumber()
              + (board.simulated() ? ", simulated: readings against a simulated reference" : ""));
      boolean complete = true;
      for (Quantity quantity : steps) {
        complete &= step(bench, kept, quantity, out);
      }
      out.println("Records are in " + kept.calibrationFile() + ".");
      return (complete ? Verdict.PASS : Verdict.UNDECIDED).exitCode();
    }
  }

  private List<Quantity> steps() throws UsageException {
    if (step == null) {
      return List.of(Quantity.values());
    }
    List<Quantity> one =
        Arrays.stream(Quantity.values()).filter(q -> q.key().equals(step)).toList();
    if (one.isEmpty()) {
      throw new UsageException(
          "--step "
              + step
              + " is not one of "
              + Arrays.stream(Quantity.values())
                  .map(Quantity::key)
                  .collect(Collectors.joining(", ")));
    }
    return one;
  }

  /** One step; false when nobody did it. */
  private boolean step(Bench bench, BenchRecords kept, Quantity quantity, PrintWriter out)
      throws Exception {
    LocalDate today = Clock.today();
    Calibrations before = kept.calibrations();
    out.println();
    out.println(
        (quantity.ordinal() + 1) + " of " + Quantity.values().length + "  " + quantity.key());
    out.println("  " + quantity.text());
    Optional<CalibrationRecord> done =
        before.inForce(quantity).filter(r -> r.date().equals(today) && !again);
    if (done.isPresent()) {
      out.println("  Done today: " + line(done.get()));
      return true;
    }
    boolean simulated = bench.describe().simulated();
    Attendant attendant = simulated ? Attendant.NOBODY : new Person(out, kept);
    Optional<List<Long>> readings = new Calibrator(bench, attendant, seed).readings(quantity);
    Optional<CalibrationRecord> record =
        readings.flatMap(
            r ->
                simulated
                    ? Optional.of(simulated(quantity, r, today))
                    : stated(quantity, r, today, new Person(out, kept)));
    if (record.isEmpty()) {
      out.println("  Not done: nobody gave the numbers.");
      return false;
    }
    kept.keep(before.with(record.get()));
    out.println("  " + line(record.get()));
    return true;
  }

  private CalibrationRecord simulated(Quantity quantity, List<Long> readings, LocalDate today) {
    boolean reference = quantity.source() == Quantity.Source.TYPED;
    return new CalibrationRecord(
        quantity,
        readings,
        reference ? "simulated reference, seed " + seed : "clock of the host",
        "none",
        reference ? Math.round(2_000 * Calibrator.SIMULATED_DEVIATION) : 0,
        2_000,
        today,
        today.plusMonths(months),
        20_000,
        operator == null ? "nobody" : operator,
        true);
  }

  /** Asks for what only the person there knows; empty when it is not said. */
  private Optional<CalibrationRecord> stated(
      Quantity quantity, List<Long> readings, LocalDate today, Person person) {
    boolean reference = quantity.source() == Quantity.Source.TYPED;
    try {
      String who = operator == null ? person.word("Your name") : operator;
      operator = who;
      return Optional.of(
          new CalibrationRecord(
              quantity,
              readings,
              reference
                  ? person.word("Reference instrument, maker and serial number")
                  : "clock of the host",
              reference ? person.word("Number of its certificate, or none") : "none",
              reference
                  ? person.thousandths("Its expanded uncertainty", quantity.sign(), 0, 1e5)
                  : 0,
              reference ? person.thousandths("with coverage factor k", "", 1, 10) : 2_000,
              today,
              today.plusMonths(months),
              (int) person.thousandths("Temperature of the room", "°C", -40, 80),
              who,
              false));
    } catch (Person.SilentException e) {
      return Optional.empty();
    }
  }

  private static String line(CalibrationRecord r) {
    return String.format(
        Locale.ROOT,
        "%d readings, mean %+.3f %s, spread %.3f %s; due %s",
        r.readingsThousandths().size(),
        r.mean(),
        r.quantity().sign(),
        r.spread(),
        r.quantity().sign(),
        r.due());
  }

  /** Whoever types at the terminal, or a file in their place. */
  final class Person implements Attendant {
    private final PrintWriter out;
    private final BenchRecords kept;

    /** No more answers come. */
    private static final class SilentException extends RuntimeException {
      private static final long serialVersionUID = 1L;

      SilentException() {
        super(null, null, false, false);
      }
    }

    Person(PrintWriter out, BenchRecords kept) {
      this.out = out;
      this.kept = kept;
    }

    @Override
    public void tell(String text) {
      out.println("  " + text);
    }

    @Override
    public Optional<Double> number(String question, String unit) {
      try {
        return Optional.of(thousandths(question, unit, -1e6, 1e6) / 1e3);
      } catch (SilentException e) {
        return Optional.empty();
      }
    }

    /** Asks until a number within limits comes, with at most three decimals. */
    long thousandths(String question, String unit, double low, double high) {
      while (true) {
        String answer = word(question + (unit.isEmpty() ? "" : ", " + unit));
        try {
          BigDecimal number = new BigDecimal(answer.replace(',', '.'));
          if (number.doubleValue() >= low && number.doubleValue() <= high) {
            return number.movePointRight(3).longValueExact();
          }
          out.println("  " + number + " is outside " + low + " to " + high + " " + unit);
        } catch (NumberFormatException | ArithmeticException e) {
          out.println("  \"" + answer + "\" is not a number of at most 3 decimals");
        }
      }
    }

    String word(String question) {
      out.print("  " + question + ": ");
      out.flush();
      String answer = readLine();
      if (answer == null || answer.isBlank()) {
        out.println();
        throw new SilentException();
      }
      try {
        kept.typed(question, answer.strip());
      } catch (IOException e) {
        throw new UncheckedIOException("what was typed cannot be put on record", e);
      }
      return answer.strip();
    }
  }

  private @Nullable String readLine() {
    try {
      if (typed == null) {
        typed = new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8));
      }
      return typed.readLine();
    } catch (IOException e) {
      return null;
    }
  }
}
