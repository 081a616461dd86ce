package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import java.util.function.Predicate;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.FileParameters;
import org.stopwell.harness.length.DepthBy;
import org.stopwell.harness.length.DepthReader;
import org.stopwell.harness.length.LengthMethod;
import org.stopwell.harness.length.LengthReading;
import org.stopwell.harness.length.LengthReadings;
import org.stopwell.harness.length.LengthRecord;
import org.stopwell.harness.length.LengthRun;
import org.stopwell.harness.length.MovedBy;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.AfterStop;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.calibration.Attendant;
import org.stopwell.rig.physics.hand.LocatorHand;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.Plant;
import org.stopwell.rig.virtual.VirtualBench;

/** Measures the length of one canal and prints each reading. */
final class LengthSession {
  private final BenchOptions benches;
  private final MeasureOptions options;
  private final Attendant attendant;
  private final PrintWriter screen;
  private @Nullable LocatorHand hand;

  LengthSession(
      BenchOptions benches, MeasureOptions options, Attendant attendant, PrintWriter screen) {
    this.benches = benches;
    this.options = options;
    this.attendant = attendant;
    this.screen = screen;
  }

  /** The first trial that expects a stop, if its scene permits length readings. */
  TrialSpec trial(Plan plan) throws UsageException {
    TrialSpec trial = first(plan, "a stop", e -> e == Expectation.STOP);
    var moves = trial.scene().section("hand");
    if (!options.rubberStop && !HandSection.hasDepthAxis(moves)) {
      throw new UsageException(
          plan.head().name()
              + ": scene.hand.depth_axis must be present: length readings need a depth; or use"
              + " --rubber-stop");
    }
    if (!options.handFile && HandSection.afterStop(moves) != AfterStop.REPEAT) {
      throw new UsageException(
          plan.head().name()
              + ": scene.hand.after_stop must be repeat: length readings need several stops");
    }
    return trial;
  }

  private static TrialSpec first(Plan plan, String what, Predicate<Expectation> wanted)
      throws UsageException {
    return IntStream.range(0, plan.trials())
        .mapToObj(plan::trial)
        .filter(t -> wanted.test(t.expectation()))
        .findFirst()
        .orElseThrow(
            () -> new UsageException(plan.head().name() + ": no condition expects " + what));
  }

  /** The bench of the last measurement, and how many readings it took. */
  record Done(BenchDescription bench, int taken, Optional<LengthRecord> length) {}

  /** Takes the readings; then leads the file past the foramen by a second plan, if wanted. */
  Done measure(Plan plan, TrialSpec trial, LengthMethod method, Plan patency)
      throws UsageException, PlanException, BenchException {
    TrialSpec past =
        options.patency ? first(patency, "patency", e -> e == Expectation.PATENCY) : trial;
    BenchDescription used;
    LengthReadings readings = new LengthReadings(method);
    Interruption.watch();
    try (Bench bench = open(trial.standoffMicrons())) {
      used = bench.describe();
      screen.println(
          plan.head().name() + ", " + trial.condition() + (used.simulated() ? ", simulated" : ""));
      LengthRun.End end =
          run(bench, plan, trial, method)
              .take(
                  trial,
                  options.passes,
                  taken -> {
                    readings.add(taken.reading());
                    print(
                        "length reading %d: %.3f mm to %.2f mm short of the foramen, %s, error"
                            + " %+.3f mm",
                        readings.taken().size(),
                        taken.reading().lengthMicrons() / 1e3,
                        taken.reading().standoffMicrons() / 1e3,
                        bound(taken.reading()),
                        taken.errorMicrons() / 1e3);
                  });
      switch (end) {
        case COMPLETE -> {}
        case TIME_LIMIT ->
            screen.println(
                "no further length reading within the time limit of the plan, "
                    + trial.timeLimitNs() / 1_000_000_000
                    + " s");
        case GIVEN_UP -> screen.println("interrupted");
      }
    }
    Optional<LengthRecord> length = readings.record();
    int taken = readings.taken().size();
    if (length.isEmpty()) {
      print(
          "no length: fewer than three of %d length readings agree within %.3f mm",
          taken, method.rangeMicrons() / 1e3);
    } else if (options.patency && !Interruption.requested()) {
      OptionalInt reached = patency(patency, past, method);
      if (reached.isPresent()) {
        length = length.map(l -> l.withPatency(reached.getAsInt()));
      }
    }
    return new Done(used, taken, length);
  }

  /** Leads the file past the foramen on purpose; empty when it did not come to rest there. */
  private OptionalInt patency(Plan plan, TrialSpec past, LengthMethod method)
      throws UsageException, PlanException, BenchException {
    try (Bench bench = open(past.standoffMicrons())) {
      LengthRun.Patency found = run(bench, plan, past, method).patency(past);
      if (found.pastMicrons().isEmpty()) {
        print(
            "patency: the file did not rest %.2f mm past the foramen; its tip was %.2f mm past it at"
                + " most",
            -past.standoffMicrons() / 1e3, found.deepestMicrons() / 1e3);
        return OptionalInt.empty();
      }
      print(
          "patency: the file rested %.2f mm past the foramen by its reading, on purpose; deepest"
              + " %.2f mm by the bench; %s",
          found.pastMicrons().getAsInt() / 1e3,
          found.deepestMicrons() / 1e3,
          found.back() ? "it came back" : "it did not come back within the time limit");
      return found.pastMicrons();
    }
  }

  private LengthRun run(Bench bench, Plan plan, TrialSpec trial, LengthMethod method) {
    BenchDescription description = bench.describe();
    ControllerSettings told = plan.controller(trial);
    Supplier<Pace> paces =
        () ->
            description.lockstep()
                ? Pace.lockstep(description.periodNs())
                : Pace.realTime(description.periodNs());
    BooleanSupplier abandon = Interruption::requested;
    LengthRun run =
        new LengthRun(
            bench,
            told,
            plan.policies(),
            method.movedBy(),
            told.file(trial.stage()).getInt(FileParameters.SIZE),
            reader(description, trial, method),
            paces,
            abandon);
    return method.movedBy() == MovedBy.HAND_FILE
        ? run.shownTo(new Display(description.simulated()))
        : run;
  }

  private DepthReader reader(BenchDescription description, TrialSpec trial, LengthMethod method) {
    if (method.depthBy() == DepthBy.AXIS) {
      return DepthReader.axis(method.reference());
    }
    return description.simulated()
        ? DepthReader.playedStop(trial.scene(), method)
        : new AskedStop(method.reference().point());
  }

  /** The bench; a hand file on the virtual bench is moved by a hand that sees the display. */
  private Bench open(int standoffMicrons) throws UsageException, PlanException, BenchException {
    if (!options.handFile || benches.kind().physical() || benches.kind().isOwn()) {
      return benches.maker().open();
    }
    if (!benches.kind().equals(BenchKind.VIRTUAL)) {
      throw new UsageException(
          "--hand-file: the "
              + benches.word()
              + " bench has no hand that sees a display; use --bench virtual or a physical bench");
    }
    Bench bench =
        new VirtualBench(
            BenchOptions.PERIOD_NS,
            scene -> {
              LocatorHand follows = new LocatorHand(scene, standoffMicrons, Plant.TICK_NS);
              hand = follows;
              return new Plant(scene, follows);
            });
    bench.open();
    return bench;
  }

  private static String bound(LengthReading reading) {
    return reading.boundMicrons() > 0
        ? String.format(Locale.ROOT, "within %.2f mm 95 times in 100", reading.boundMicrons() / 1e3)
        : "no bound stated";
  }

  private void print(String format, Object... args) {
    screen.println(String.format(Locale.ROOT, format, args));
  }

  /** A person who reads a rubber stop and types the depth. */
  private final class AskedStop implements DepthReader {
    /** No root canal is longer, mm; assumed. */
    private static final double MOST_MM = 60;

    private final String reference;

    AskedStop(String reference) {
      this.reference = reference;
    }

    @Override
    public boolean stopsTheBench() {
      return true;
    }

    @Override
    public OptionalInt read(ControllerInput in, Truth truth) {
      return attendant
          .thousandths(
              "Set the rubber stop to the "
                  + reference
                  + ", take the file out, measure tip to stop",
              "mm",
              0,
              MOST_MM)
          .map(microns -> OptionalInt.of(microns.intValue()))
          .orElse(OptionalInt.empty());
    }
  }

  /** Shows the reading: to a person as text, to a simulated hand as it is. */
  private final class Display implements Consumer<ControllerOutput> {
    /** Above this distance the reading is shown in coarse steps, µm. */
    private static final int FINE_MICRONS = 1_000;

    private final boolean simulated;
    private int lastMicrons = Integer.MAX_VALUE;

    Display(boolean simulated) {
      this.simulated = simulated;
    }

    @Override
    public void accept(ControllerOutput out) {
      LocatorHand follows = hand;
      if (follows != null) {
        follows.shows(out.readingPresent, out.remainingMicrons);
      }
      int step = out.remainingMicrons > FINE_MICRONS ? 500 : 100;
      if (!simulated
          && out.readingPresent
          && Math.abs((long) out.remainingMicrons - lastMicrons) >= step) {
        lastMicrons = out.remainingMicrons;
        print("  reading %.2f mm, %s", lastMicrons / 1e3, out.trust);
      }
    }
  }
}
