package org.stopwell.harness.rare;

import java.util.Map;
import java.util.function.BooleanSupplier;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.explore.Workers;
import org.stopwell.harness.fault.Trials;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.trial.TraceRecorder;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.random.RandomStream;

/**
 * The trials of one condition of a plan on the virtual bench. A trial is the numbers on its tapes:
 * what the plan draws, noise of the front end, tremor of the hand.
 */
final class TrialWorld implements Splitting.World<TrialWorld.Walked> {
  private final Plan plan;
  private final int index;
  private final long periodNs;
  private final BooleanSupplier abandon;
  private final Runnable counter;

  /**
   * A world.
   *
   * @param plan the plan
   * @param condition the condition whose trials count
   * @param periodNs period of the virtual bench, ns
   * @param abandon asked before every step
   * @param counter called after every trial
   */
  TrialWorld(
      Plan plan, String condition, long periodNs, BooleanSupplier abandon, Runnable counter) {
    this.plan = plan;
    this.index =
        IntStream.range(0, plan.trials())
            .filter(i -> plan.trial(i).condition().equals(condition))
            .findFirst()
            .orElseThrow();
    this.periodNs = periodNs;
    this.abandon = abandon;
    this.counter = counter;
  }

  /**
   * A trial on the walk.
   *
   * @param tapes its numbers
   * @param deepestMicrons least true remaining distance, µm; below 0 the file was past the foramen
   */
  record Walked(Map<String, double[]> tapes, int deepestMicrons) {}

  /** The greatest least remaining distance that is an over-travel, µm. */
  int event() {
    return plan.trial(index).overTravelBelowMicrons() - 1;
  }

  @Override
  public Walked fresh(RandomStream random) {
    return tried(new Recording(Map.of(), random));
  }

  @Override
  public Walked neighbour(Walked of, double step, RandomStream random) {
    return tried(new Recording(Recording.near(of.tapes(), step, random), random));
  }

  @Override
  public int depth(Walked trial) {
    return trial.deepestMicrons();
  }

  /** What a trial of the plan is made of. */
  Scene scene(RandomStream random) {
    return plan.trial(index, new Recording(Map.of(), random)).scene();
  }

  /** What is drawn for a trial. */
  TrialSpec spec(Walked trial) {
    return plan.trial(index, again(trial));
  }

  /** The trial again, with every step. */
  byte[] trace(Walked trial) {
    TraceRecorder trace = new TraceRecorder();
    run(spec(trial), trace);
    return trace.bytes();
  }

  private static Recording again(Walked trial) {
    return new Recording(trial.tapes(), RandomStream.of(0, "beyond the tapes"));
  }

  private Walked tried(Recording recording) {
    TrialResult result = run(plan.trial(index, recording), null);
    counter.run();
    return new Walked(recording.tapes(), result.deepestMicrons());
  }

  private TrialResult run(TrialSpec spec, @Nullable TraceRecorder trace) {
    return Trials.simulate(periodNs, plan.controller(spec), plan.policies(), spec, trace, abandon)
        .orElseThrow(Workers.Abandoned::new);
  }
}
