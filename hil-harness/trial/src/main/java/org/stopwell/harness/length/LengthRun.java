package org.stopwell.harness.length;

import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import org.stopwell.core.StopController;
import org.stopwell.core.depth.LengthReading;
import org.stopwell.core.depth.LengthWatch;
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
 * of the scene, or the operator, withdraws the file after each stop and inserts it again.
 */
public final class LengthRun {
  private final Bench bench;
  private final ControllerSettings settings;
  private final Policies policies;
  private final int fileSize;

  /**
   * A run.
   *
   * @param bench an open bench
   * @param settings the settings of the controller
   * @param policies the policies that the settings may name
   * @param fileSize tip diameter of the file, 1/100 mm
   */
  public LengthRun(Bench bench, ControllerSettings settings, Policies policies, int fileSize) {
    this.bench = bench;
    this.settings = settings;
    this.policies = policies;
    this.fileSize = fileSize;
  }

  /** Why the readings ended. */
  public enum End {
    /** All requested readings were taken. */
    COMPLETE,
    /** The time limit was reached. */
    TIME_LIMIT,
    /** A stop was requested. */
    GIVEN_UP
  }

  /**
   * Takes length readings and leaves the bench safe, whatever happens.
   *
   * @param spec canal, stage, standoff, and the time allowed for each length reading
   * @param wanted number of length readings, at least 1
   * @param pace gives the time of every step
   * @param abandon asked before every step
   * @param taken receives every length reading
   * @return why it ended
   * @throws BenchException when the bench fails
   */
  public End take(
      TrialSpec spec, int wanted, Pace pace, BooleanSupplier abandon, Consumer<Taken> taken)
      throws BenchException {
    StopController controller = new StopController(settings, policies);
    LengthWatch watch = new LengthWatch(spec.standoffMicrons(), fileSize);
    ControllerInput in = new ControllerInput();
    ControllerOutput out = new ControllerOutput();
    int count = 0;
    long deadlineNs = spec.timeLimitNs();
    try {
      Lack.refuse(bench, Ability.MOTOR, Ability.POSITION, Ability.TRUTH);
      bench.mount(spec.scene());
      TruthCheck check = new TruthCheck(spec.scene(), bench);
      check.mounted(bench.truth());
      while (count < wanted) {
        if (abandon.getAsBoolean()) {
          return End.GIVEN_UP;
        }
        long nowNs = pace.next();
        if (nowNs > deadlineNs) {
          return End.TIME_LIMIT;
        }
        bench.exchange(nowNs, out, in);
        check.look(nowNs, out, in, bench.truth());
        in.stage = spec.stage();
        controller.step(nowNs, in, out);
        Optional<LengthReading> reading = watch.look(nowNs, in, out);
        if (reading.isPresent()) {
          count++;
          deadlineNs = nowNs + spec.timeLimitNs();
          // length = depth + reading - standoff, so only the reading can be off
          int error = out.remainingMicrons - bench.truth().remainingMicrons;
          taken.accept(new Taken(reading.get(), error));
        }
      }
      return End.COMPLETE;
    } finally {
      bench.safeStop();
    }
  }

  /**
   * One length reading, and its true error.
   *
   * @param reading what the controller measured
   * @param errorMicrons how far it is from the true length, µm, positive when it is too long
   */
  public record Taken(LengthReading reading, int errorMicrons) {}
}
