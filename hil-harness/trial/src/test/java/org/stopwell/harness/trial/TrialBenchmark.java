package org.stopwell.harness.trial;

import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.AuxCounters;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * Whole trials of reference-canal.yaml on the virtual bench, by one thread: bench, controller,
 * trace, judgement.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(1)
public class TrialBenchmark {
  private static final long PERIOD_NS = 1_000_000;

  private final Plan plan;
  private final TrialRunner runner;
  private final TraceRecorder trace = new TraceRecorder();
  private int next;

  /** What one second of the machine brings beside whole trials. */
  @AuxCounters
  @State(Scope.Thread)
  public static class Brought {
    /** Seconds of bench time: the factor by which the trials ran faster than real time. */
    public double timesRealTime;
  }

  /** The shipped plan and an open bench. */
  public TrialBenchmark() {
    try {
      plan = Plan.read(Source.of(TestPlans.file("reference-canal")));
    } catch (PlanException e) {
      throw new AssertionError(e);
    }
    VirtualBench bench = new VirtualBench(PERIOD_NS);
    bench.open();
    runner = new TrialRunner(bench, plan.settings().controller());
  }

  /** One trial after another, in the order of the plan, with its trace. */
  @Benchmark
  public TrialResult wholeTrials(Brought brought) {
    TrialSpec spec = plan.trial(next);
    next = (next + 1) % plan.trials();
    trace.clear();
    TrialResult result =
        runner.run(spec, trace, () -> Pace.lockstep(PERIOD_NS), () -> false).orElseThrow();
    brought.timesRealTime += result.durationNs() * 1e-9;
    return result;
  }
}
