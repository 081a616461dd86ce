package org.stopwell.harness.trial;

import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/** More and more trials of scale.yaml in a row: time should follow their number. */
@State(Scope.Thread)
@BenchmarkMode(Mode.SingleShotTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 0)
@Measurement(iterations = 2)
@Fork(1)
public class TrialsBenchmark {
  private static final long PERIOD_NS = 1_000_000;

  /** How many trials in a row. */
  @Param({"100", "1000", "10000"})
  public int trials;

  private final Plan plan;
  private final TrialRunner runner;

  /** The benchmark plan, whose four conditions stand in blocks of four, and an open bench. */
  public TrialsBenchmark() {
    try {
      plan = TestPlans.scale("ratio");
    } catch (PlanException e) {
      throw new AssertionError(e);
    }
    VirtualBench bench = new VirtualBench(PERIOD_NS);
    bench.open();
    runner = new TrialRunner(bench, plan.settings().controller());
  }

  /** Compiles what the trials need. */
  @Setup
  public void warm() {
    run(500);
  }

  /** The first trials of the plan. */
  @Benchmark
  public long inARow() {
    return run(trials);
  }

  private long run(int count) {
    long steps = 0;
    for (int i = 0; i < count; i++) {
      steps +=
          runner
              .run(plan.trial(i), null, () -> Pace.lockstep(PERIOD_NS), () -> false)
              .orElseThrow()
              .steps();
    }
    return steps;
  }
}
