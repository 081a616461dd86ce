package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.depth.LengthReading;
import org.stopwell.core.depth.LengthReadings;
import org.stopwell.core.depth.LengthRecord;
import org.stopwell.core.depth.LengthRecord.Radiograph;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.harness.length.LengthFile;
import org.stopwell.harness.length.LengthRun;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.AfterStop;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.time.Pace;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Measures a length record for the chart from length readings. */
@Command(
    name = "length",
    description = {
      "Measures the length of one canal: moves the file in and out, takes a length reading"
          + " at every stop, and writes the median of the readings that agree as a length record."
          + " The bench must measure depth (hand.depth_axis: present), and the hand must repeat"
          + " (hand.after_stop: repeat).",
      "",
      "Exit codes: 0 at least three readings agree and, with --recheck, the length is"
          + " unchanged; 1 the length has changed; 5 too few readings agree."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell length docs/plans/length-readings.yaml --out length.json",
      "  stopwell length docs/plans/length-readings.yaml --recheck length.json"
    },
    mixinStandardHelpOptions = true)
final class LengthCommand extends StopwellCommand {
  @Mixin BenchOptions benches = new BenchOptions();

  @Parameters(
      paramLabel = "PLAN",
      description = "A plan. The first condition that expects a stop is used.")
  Path planFile = Path.of("");

  @Option(
      names = "--passes",
      paramLabel = "N",
      description = "Number of length readings. Default: ${DEFAULT-VALUE}.",
      defaultValue = "5")
  int passes = 5;

  @Option(
      names = "--range-mm",
      paramLabel = "MM",
      description = "Range within which length readings agree, mm. Default: ${DEFAULT-VALUE}.",
      defaultValue = "0.1")
  double rangeMm = 0.1;

  @Option(
      names = "--reference",
      paramLabel = "TEXT",
      description = "The reference point on the tooth. Default: ${DEFAULT-VALUE}.",
      defaultValue = "orifice")
  String reference = "orifice";

  @Option(
      names = "--reference-error-mm",
      paramLabel = "MM",
      description =
          "Largest error of the reference point, either way, mm; part of the uncertainty."
              + " Default: ${DEFAULT-VALUE}.",
      defaultValue = "0.1")
  double referenceErrorMm = 0.1;

  @Option(
      names = "--radiograph",
      paramLabel = "FINDING",
      description =
          "Finding of a radiograph: not_taken, confirms or contradicts. Default:"
              + " ${DEFAULT-VALUE}.",
      defaultValue = "not_taken")
  Radiograph radiograph = Radiograph.NOT_TAKEN;

  @Option(
      names = "--recheck",
      paramLabel = "FILE",
      description = "An earlier length record to compare with.")
  @Nullable Path recheck;

  @Option(names = "--out", paramLabel = "FILE", description = "File for the length record, JSON.")
  @Nullable Path out;

  @Override
  public Integer call() throws Exception {
    PrintWriter screen = out();
    Range.check("--passes", passes, 1, 1_000);
    LengthRecord before = recheck == null ? null : LengthFile.read(recheck);
    Plan plan = Plan.read(Source.of(planFile), extensions().policies());
    TrialSpec trial = trial(plan);
    LengthReadings readings =
        new LengthReadings(
            microns("--range-mm", rangeMm),
            reference,
            microns("--reference-error-mm", referenceErrorMm));
    Interruption.watch();
    try (Bench bench = benches.maker().open()) {
      BenchDescription description = bench.describe();
      boolean simulated = description.simulated();
      screen.println(
          plan.head().name() + ", " + trial.condition() + (simulated ? ", simulated" : ""));
      ControllerSettings told = plan.controller(trial);
      int size = told.file(trial.stage()).getInt(FileParameters.SIZE);
      LengthRun.End end =
          new LengthRun(bench, told, plan.policies(), size)
              .take(
                  trial,
                  passes,
                  description.lockstep()
                      ? Pace.lockstep(description.periodNs())
                      : Pace.realTime(description.periodNs()),
                  Interruption::requested,
                  taken -> {
                    readings.add(taken.reading());
                    print(
                        screen,
                        "length reading %d: %.3f mm to %.2f mm short of the foramen, %s, error"
                            + " %+.3f mm",
                        readings.taken().size(),
                        taken.reading().lengthMicrons() / 1e3,
                        taken.reading().standoffMicrons() / 1e3,
                        bound(taken.reading()),
                        taken.errorMicrons() / 1e3);
                  });
      if (end != LengthRun.End.COMPLETE) {
        screen.println(
            end == LengthRun.End.TIME_LIMIT
                ? "no further length reading within the time limit of the plan, "
                    + trial.timeLimitNs() / 1_000_000_000
                    + " s"
                : "interrupted");
      }
    }
    return record(screen, readings, before);
  }

  private static String bound(LengthReading reading) {
    return reading.boundMicrons() > 0
        ? String.format(Locale.ROOT, "within %.2f mm 95 times in 100", reading.boundMicrons() / 1e3)
        : "no bound stated";
  }

  private int record(PrintWriter screen, LengthReadings readings, @Nullable LengthRecord before)
      throws IOException {
    Optional<LengthRecord> accepted = readings.record().map(r -> r.with(radiograph));
    if (accepted.isEmpty()) {
      print(
          screen,
          "no length: fewer than three of %d length readings agree within %.3f mm",
          readings.taken().size(),
          rangeMm);
      return Verdict.UNDECIDED.exitCode();
    }
    LengthRecord length = accepted.get();
    print(
        screen,
        "length %.2f mm from %s, %.2f mm short of the foramen, ± %.2f mm (k = 2); %d of %d"
            + " length readings agree within %.3f mm",
        length.lengthMicrons() / 1e3,
        length.reference(),
        length.standoffMicrons() / 1e3,
        length.uncertaintyMicrons() / 1e3,
        length.agreeing(),
        length.taken(),
        length.spreadMicrons() / 1e3);
    screen.println(
        "The uncertainty includes the spread of the length readings and the error of the"
            + " reference point. It does not include an error that all readings share.");
    if (radiograph == Radiograph.CONTRADICTS) {
      screen.println("The radiograph contradicts this length: do not use it.");
    }
    if (out != null) {
      screen.println(
          Files.writeString(out, length.toJson() + System.lineSeparator(), StandardCharsets.UTF_8));
    }
    return before == null ? Verdict.PASS.exitCode() : compare(screen, before, length);
  }

  private static int compare(PrintWriter screen, LengthRecord before, LengthRecord now) {
    boolean changed = before.hasChanged(now);
    print(
        screen,
        "%s: %+.2f mm against %.2f mm ± %.2f mm before (file size %d, now %d)",
        changed ? "the length has changed" : "the length has not changed beyond both uncertainties",
        (now.lengthMicrons() - before.lengthMicrons()) / 1e3,
        before.lengthMicrons() / 1e3,
        before.uncertaintyMicrons() / 1e3,
        before.fileSize(),
        now.fileSize());
    return (changed ? Verdict.FAIL : Verdict.PASS).exitCode();
  }

  /** The first trial that expects a stop, if its scene permits length readings. */
  private static TrialSpec trial(Plan plan) throws UsageException {
    TrialSpec trial =
        IntStream.range(0, plan.trials())
            .mapToObj(plan::trial)
            .filter(t -> t.expectation().stops())
            .findFirst()
            .orElseThrow(
                () -> new UsageException(plan.head().name() + ": no condition expects a stop"));
    var hand = trial.scene().section("hand");
    if (!HandSection.hasDepthAxis(hand)) {
      throw new UsageException(
          plan.head().name()
              + ": scene.hand.depth_axis must be present: length readings need a depth");
    }
    if (HandSection.afterStop(hand) != AfterStop.REPEAT) {
      throw new UsageException(
          plan.head().name()
              + ": scene.hand.after_stop must be repeat: length readings need several stops");
    }
    return trial;
  }

  private static int microns(String option, double mm) throws UsageException {
    if (!(mm >= 0 && mm <= 10)) {
      throw new UsageException(option + " " + mm + " mm is outside 0 to 10 mm");
    }
    return (int) Math.round(mm * 1e3);
  }

  private static void print(PrintWriter out, String format, Object... args) {
    out.println(String.format(Locale.ROOT, format, args));
  }
}
