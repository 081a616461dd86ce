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
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/** More and more trials in a row: cost should follow their number. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 2, time = 1)
@Measurement(iterations = 3, time = 2)
@Fork(1)
public class TrialsBenchmark {
  private static final long PERIOD_NS = 1_000_000;

  /** How many trials in a row. */
  @Param({"9", "18", "36", "72"})
  public int trials;

  private final Plan plan;
  private final TrialRunner runner;
  private final TraceRecorder trace = new TraceRecorder();

  /** The shipped plan, whose nine conditions stand in blocks of nine, and an open bench. */
  public TrialsBenchmark() {
    try {
      plan = Plan.read(Source.of(TestPlans.file("reference-canal")));
    } catch (PlanException e) {
      throw new AssertionError(e);
    }
    VirtualBench bench = new VirtualBench(PERIOD_NS);
    bench.open();
    runner = new TrialRunner(bench, plan.settings().controller());
  }

  /** The first trials of the plan. */
  @Benchmark
  public long inARow() {
    long steps = 0;
    for (int i = 0; i < trials; i++) {
      trace.clear();
      TrialSpec spec = plan.trial(i);
      steps +=
          runner
              .run(spec, trace, () -> Pace.lockstep(PERIOD_NS), () -> false)
              .orElseThrow()
              .steps();
    }
    return steps;
  }
}
