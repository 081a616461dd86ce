package org.stopwell.harness.fault;

import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.fault.FaultPlan;
import org.stopwell.rig.fault.FaultyBench;
import org.stopwell.rig.fault.Injection;
import org.stopwell.rig.time.Pace;

/**
 * What came of one trial with one fault.
 *
 * @param injection the fault
 * @param result the trial's result
 * @param firstTurnNs when the motor was first told to turn, ns
 * @param turning whether the motor was told to turn when the fault struck
 * @param reactionNs time from the fault until the motor was told to rest or the bench gave up, ns
 * @param seen every name that the first reaction and the result give
 */
record FaultTrial(
    Injection injection,
    TrialResult result,
    long firstTurnNs,
    boolean turning,
    long reactionNs,
    Set<String> seen) {

  private static final long PERIOD_NS = 1_000_000;

  /** One quick trial with a guard on the supply; without a fault it ends in a stop. */
  static Plan plan() throws PlanException {
    String settings =
        Source.of(TestPlans.file("first-stop").resolveSibling("../settings/length.yaml")).text()
            + "\nguard:\n  supply_min_v: 3\n";
    String plan =
        """
        plan: 1
        name: faults
        settings: length.yaml
        stage: length
        seed: 3
        trials: 1
        time_limit_s: 30
        scene:
          canal: {length_mm: 10}
          fluid: {level_mm: 8}
          hand: {feed_mm_per_s: 1, passive_mm: 7}
        """;
    return Plan.read(new Source("faults.yaml", plan), new Source("length.yaml", settings));
  }

  static FaultTrial run(Plan plan, Bench bench, FaultPlan faults) throws BenchException {
    Injection injection = faults.injections().get(0);
    try (Witness witness = new Witness(new FaultyBench(bench, faults), injection.startNs())) {
      witness.open();
      TrialSpec spec = plan.trial(0);
      TrialResult result =
          new TrialRunner(witness, plan.settings().controller())
              .run(spec, null, () -> Pace.lockstep(PERIOD_NS), () -> false)
              .orElseThrow();
      return new FaultTrial(
          injection,
          result,
          witness.firstTurnNs,
          witness.turning,
          witness.restNs - injection.startNs(),
          Stream.of(result.code(), result.reason().name(), witness.reason, witness.cause)
              .collect(Collectors.toUnmodifiableSet()));
    }
  }

  /** Looks at the commands that go to a bench. */
  private static final class Witness implements Bench {
    private final Bench bench;
    private final long startNs;
    private boolean turning;
    private long restNs = Long.MAX_VALUE;
    private long firstTurnNs = Long.MAX_VALUE;
    private String reason = "";
    private String cause = "";

    Witness(Bench bench, long startNs) {
      this.bench = bench;
      this.startNs = startNs;
    }

    @Override
    public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
        throws BenchException {
      boolean turns = command.drive.turns();
      if (turns) {
        firstTurnNs = Math.min(firstTurnNs, nowNs);
      }
      if (nowNs <= startNs) {
        turning = turns;
      } else if (!turns && restNs == Long.MAX_VALUE) {
        restNs = nowNs;
        reason = command.reason.name();
        cause = command.cause.name();
      }
      try {
        bench.exchange(nowNs, command, reading);
      } catch (BenchException e) {
        restNs = Math.min(restNs, nowNs);
        throw e;
      }
    }

    @Override
    public BenchDescription describe() {
      return bench.describe();
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
