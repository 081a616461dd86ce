package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.standing.BenchRecords;
import org.stopwell.harness.standing.CalibrationSteps;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.calibration.Attendant;
import org.stopwell.rig.calibration.Quantity;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Calibrates a bench, step by step. */
@Command(
    name = "calibrate",
    description = {
      "Calibrates a bench step by step. Each step gives instructions, takes the values that"
          + " you type or measures automatically, shows mean and spread, and writes a record with"
          + " instrument, certificate, uncertainty, date, due date and temperature.",
      "",
      "Every reading is stored before the next: you can stop at any time, and the next"
          + " start continues with the next reading. Steps done today are skipped. Your typed"
          + " input is also stored as typed. A stage that the bench drives moves automatically."
          + " Answers can come from a file, one per line (stopwell rig calibrate … < FILE), or"
          + " from a page in the browser (--console).",
      "",
      "A simulated bench is compared with a simulated reference, without an operator. Its"
          + " records are marked as simulated and never count for a physical bench.",
      "",
      "A device board (controller: external) has steps of its own: leak and stray capacitance of"
          + " the floating chain, its magnitude and phase, rotation sensor, shank scale, play of"
          + " the head, load cell, time base and second witness. Each has a limit.",
      "",
      "Exit codes: 0 every step is done; 5 a step was skipped or a reading is outside its limit."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell rig calibrate --bench emulated",
      "  stopwell rig calibrate --bench serial --port /dev/ttyUSB0 --operator OP-1",
      "  stopwell rig calibrate --bench boards --port board:C-0001 --drive-port board:D-0001 --console",
      "  stopwell rig calibrate --bench emulated --step motor_coast --again",
      "  stopwell rig calibrate --bench boards --port board:W-0001 --drive-port board:D-0001",
      "  stopwell rig calibrate --bench emulated --device"
    },
    mixinStandardHelpOptions = true)
final class RigCalibrateCommand extends StopwellCommand {
  @Mixin BenchOptions benches = new BenchOptions();

  @Mixin RecordsOption records = new RecordsOption();

  @Option(
      names = "--step",
      paramLabel = "STEP",
      description =
          "Only this step: ladder, stage_scale, stage_backlash, encoder_zero, link_latency,"
              + " motor_coast or capacitors; of a device board leak, stray, chain_magnitude,"
              + " chain_phase, shank_angle, shank_scale, head_play, feed_force, time_base or"
              + " witness.")
  @Nullable String step;

  @Option(names = "--again", description = "Repeat the steps that were done today.")
  boolean again;

  @Option(
      names = "--operator",
      paramLabel = "CODE",
      description = "Code of the operator. Default: the command asks for it.")
  @Nullable String operator;

  @Option(
      names = "--months",
      paramLabel = "N",
      description = "Validity of the calibration, months. Default: ${DEFAULT-VALUE}.",
      defaultValue = "12")
  int months = 12;

  @Option(
      names = "--seed",
      paramLabel = "N",
      description = "Seed of the simulated reference.",
      defaultValue = "1")
  long seed = 1;

  @Mixin DeviceBoardOption board = new DeviceBoardOption();

  @Mixin OperatorPage page = new OperatorPage();

  @Override
  public Integer call() throws Exception {
    PrintWriter out = out();
    Range.check("--months", months, 1, 60);
    boolean atPage = page.isWanted();
    Optional<Quantity> one = one();
    try (Bench bench = benches.maker().open()) {
      List<Quantity> steps = steps(one, bench);
      BenchDescription described = bench.describe();
      BenchRecords kept = records.of(described, benches.at.station);
      String title =
          "Calibration of "
              + described.kind()
              + ", "
              + described.serialNumber()
              + (described.simulated()
                  ? ", simulated: readings against a simulated reference"
                  : "");
      out.println(title);
      int code =
          atPage
              ? page.ask(
                  title,
                  out,
                  " Records are in " + kept.calibrationFile() + ".",
                  desk -> ended(all(steps, bench, kept, desk, desk::isLeft)))
              : ended(all(steps, bench, kept, new TypedAnswers(System.in, out), () -> false))
                  .code();
      out.println("Records are in " + kept.calibrationFile() + ".");
      return code;
    }
  }

  private boolean all(
      List<Quantity> steps,
      Bench bench,
      BenchRecords kept,
      Attendant attendant,
      BooleanSupplier left)
      throws Exception {
    CalibrationSteps all = new CalibrationSteps(bench, kept, attendant, operator, months, seed);
    boolean complete = true;
    for (Quantity quantity : steps) {
      complete &= !left.getAsBoolean() && all.step(quantity, again);
    }
    return complete;
  }

  private static OperatorPage.Ended ended(boolean complete) {
    return complete
        ? new OperatorPage.Ended(Verdict.PASS.exitCode(), "Every step is done.")
        : new OperatorPage.Ended(
            Verdict.UNDECIDED.exitCode(), "Some steps were skipped or are outside their limit.");
  }

  private List<Quantity> steps(Optional<Quantity> one, Bench bench) throws UsageException {
    Quantity.Group group = board.isMeant(bench) ? Quantity.Group.DEVICE : Quantity.Group.CONTROLLER;
    if (one.isEmpty()) {
      return Quantity.of(group);
    }
    if (one.get().group() != group && !bench.describe().simulated()) {
      throw new UsageException(
          "--step "
              + one.get().key()
              + ": this bench has "
              + (group == Quantity.Group.DEVICE ? "a" : "no")
              + " device board; its steps are "
              + keys(Quantity.of(group)));
    }
    return List.of(one.get());
  }

  private Optional<Quantity> one() throws UsageException {
    List<Quantity> all = List.of(Quantity.values());
    Optional<Quantity> one = all.stream().filter(q -> q.key().equals(step)).findFirst();
    if (step != null && one.isEmpty()) {
      throw new UsageException("--step " + step + " is not one of " + keys(all));
    }
    return one;
  }

  private static String keys(List<Quantity> quantities) {
    return quantities.stream().map(Quantity::key).collect(Collectors.joining(", "));
  }
}
