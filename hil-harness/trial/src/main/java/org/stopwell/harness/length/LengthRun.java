package org.stopwell.harness.length;

import java.util.OptionalInt;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.truth.TruthCheck;

/**
 * Moves the file in and out in one mounted canal and takes a length reading at every stop. The hand
 * of the scene, or the operator, withdraws the file after each stop and inserts it again. With a
 * hand file the controller is a locator only: nobody demands motion, so nothing is ordered to turn.
 */
public final class LengthRun {
  private final Bench bench;
  private final ControllerSettings settings;
  private final Policies policies;
  private final MovedBy movedBy;
  private final int fileSize;
  private final DepthReader depth;
  private final Supplier<Pace> paces;
  private final BooleanSupplier abandon;
  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private Consumer<ControllerOutput> display = shown -> {};

  /**
   * A run.
   *
   * @param bench an open bench
   * @param settings the settings of the controller
   * @param policies the policies that the settings may name
   * @param movedBy what moves the file
   * @param fileSize tip diameter of the file, 1/100 mm
   * @param depth who reads the depth
   * @param paces gives a time line for each mounting of the canal
   * @param abandon asked before every step
   */
  public LengthRun(
      Bench bench,
      ControllerSettings settings,
      Policies policies,
      MovedBy movedBy,
      int fileSize,
      DepthReader depth,
      Supplier<Pace> paces,
      BooleanSupplier abandon) {
    this.bench = bench;
    this.settings = settings;
    this.policies = policies;
    this.movedBy = movedBy;
    this.fileSize = fileSize;
    this.depth = depth;
    this.paces = paces;
    this.abandon = abandon;
  }

  /**
   * Shows every output of the controller, as a locator shows its reading.
   *
   * @param who sees it
   * @return this run
   */
  public LengthRun shownTo(Consumer<ControllerOutput> who) {
    display = who;
    return this;
  }

  /** Why the readings ended. */
  public enum End {
    /** All requested readings were taken. */
    COMPLETE,
    /** The time limit was reached. */
    TIME_LIMIT,
    /** A stop was requested, or nobody read the depth. */
    GIVEN_UP
  }

  /**
   * Takes length readings and leaves the bench safe, whatever happens.
   *
   * @param spec canal, stage, standoff, and the time allowed for each length reading
   * @param wanted number of length readings, at least 1
   * @param taken receives every length reading
   * @return why it ended
   * @throws BenchException when the bench fails
   */
  public End take(TrialSpec spec, int wanted, Consumer<Taken> taken) throws BenchException {
    try {
      Mounted mounted = new Mounted(spec);
      long deadlineNs = spec.timeLimitNs();
      for (int count = 0; count < wanted; ) {
        if (abandon.getAsBoolean()) {
          return End.GIVEN_UP;
        }
        if (!mounted.stepBefore(deadlineNs)) {
          return End.TIME_LIMIT;
        }
        if (!depth.ready(in) || !mounted.watch.ripe(mounted.nowNs, out)) {
          continue;
        }
        long takenNs = mounted.nowNs;
        deadlineNs = takenNs + spec.timeLimitNs();
        int remaining = out.remainingMicrons;
        int bound = out.boundMicrons;
        // length = depth + reading - standoff, so the reading is off by this
        int error = remaining - bench.truth().remainingMicrons;
        if (depth.stopsTheBench()) {
          bench.safeStop();
        }
        OptionalInt read = depth.read(in, bench.truth());
        if (read.isEmpty()) {
          return End.GIVEN_UP;
        }
        count++;
        int standoff = spec.standoffMicrons();
        int length = read.getAsInt() + remaining - standoff;
        taken.accept(
            new Taken(new LengthReading(takenNs, length, bound, standoff, fileSize), error));
        if (depth.stopsTheBench() && count < wanted) {
          mounted = new Mounted(spec);
          deadlineNs = spec.timeLimitNs();
        }
      }
      return End.COMPLETE;
    } finally {
      bench.safeStop();
    }
  }

  /**
   * Leads the file past the foramen on purpose, once, and back, and leaves the bench safe.
   *
   * @param spec as for {@link #take}, with a standoff past the foramen, and the settings of this
   *     run with the same standoff
   * @return how far it went
   * @throws BenchException when the bench fails
   */
  public Patency patency(TrialSpec spec) throws BenchException {
    try {
      Mounted mounted = new Mounted(spec);
      OptionalInt past = OptionalInt.empty();
      int deepest = bench.truth().remainingMicrons;
      while (!abandon.getAsBoolean() && mounted.stepBefore(spec.timeLimitNs())) {
        deepest = Math.min(deepest, bench.truth().remainingMicrons);
        if (mounted.watch.ripe(mounted.nowNs, out)) {
          past = OptionalInt.of(-out.remainingMicrons);
        }
        if (past.isPresent() && bench.truth().remainingMicrons > 0) {
          return new Patency(past, -deepest, true);
        }
      }
      return new Patency(past, -deepest, false);
    } finally {
      bench.safeStop();
    }
  }

  /** One mounting of the canal, with a controller at rest. */
  private final class Mounted {
    private final TrialSpec spec;
    private final StopController controller = new StopController(settings, policies);
    private final LengthWatch watch;
    private final TruthCheck check;
    private final Pace pace;
    private long nowNs;

    Mounted(TrialSpec spec) throws BenchException {
      this.spec = spec;
      watch = LengthWatch.of(movedBy, spec.standoffMicrons());
      Lack.refuse(bench, Ability.POSITION, Ability.TRUTH);
      if (movedBy == MovedBy.MOTOR) {
        Lack.refuse(bench, Ability.MOTOR);
      }
      out.clear();
      bench.mount(spec.scene());
      check = new TruthCheck(spec.scene(), bench);
      check.mounted(bench.truth());
      pace = paces.get();
    }

    /** One step of bench and controller; false once the time is up. */
    boolean stepBefore(long deadlineNs) throws BenchException {
      nowNs = pace.next();
      if (nowNs > deadlineNs) {
        return false;
      }
      bench.exchange(nowNs, out, in);
      check.look(nowNs, out, in, bench.truth());
      in.stage = spec.stage();
      in.demand &= movedBy == MovedBy.MOTOR;
      controller.step(nowNs, in, out);
      display.accept(out);
      return true;
    }
  }

  /**
   * One length reading, and the true error of the distance in it.
   *
   * @param reading what the controller measured
   * @param errorMicrons how far the read distance is from the true one, µm, positive when the
   *     length is too long
   */
  public record Taken(LengthReading reading, int errorMicrons) {}

  /**
   * A file led past the foramen on purpose.
   *
   * @param pastMicrons how far past the foramen it rested, by its reading, µm; empty when it did
   *     not rest there
   * @param deepestMicrons how far past the foramen it was at most, really, µm; negative short of it
   * @param back whether it came back
   */
  public record Patency(OptionalInt pastMicrons, int deepestMicrons, boolean back) {}
}
