package org.stopwell.harness.trial;

import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.openjdk.jmh.annotations.AuxCounters;
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
import org.stopwell.harness.fault.Trials;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * Trials of scale.yaml by one thread, each in a canal of its own: as a campaign runs nearly all of
 * them, and with a recording of every step. A million trials in an hour on two cores are 139 trials
 * per second.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(1)
public class ScaleBenchmark {
  private static final long PERIOD_NS = 1_000_000;

  /** How the length is read: by two frequencies, or by the estimate from the whole approach. */
  @Param({"ratio", "approach"})
  public String policy = "";

  private final VirtualBench bench = new VirtualBench(PERIOD_NS);
  private final TraceRecorder trace = new TraceRecorder();
  private @Nullable Plan plan;
  private int next;

  /** What one second of the machine brings beside whole trials. */
  @AuxCounters
  @State(Scope.Thread)
  public static class Brought {
    /** Seconds of bench time: the factor by which the trials ran faster than real time. */
    public double timesRealTime;
  }

  /** The plan with the settings of the policy, and an open bench. */
  @Setup
  public void read() throws PlanException {
    plan = TestPlans.scale(policy);
    bench.open();
  }

  /** One trial after another, in the order of the plan. */
  @Benchmark
  public TrialResult trials(Brought brought) {
    return trial(brought, null);
  }

  /** The same with a recording of every step and its state hash. */
  @Benchmark
  public TrialResult recordedTrials(Brought brought) {
    trace.clear();
    return trial(brought, trace);
  }

  private TrialResult trial(Brought brought, @Nullable TraceRecorder recorder) {
    Plan all = plan;
    if (all == null) {
      throw new IllegalStateException("no plan was read");
    }
    TrialSpec spec = all.trial(next);
    next = (next + 1) % all.trials();
    TrialResult result =
        Trials.run(
                bench,
                all.controller(spec),
                all.policies(),
                spec,
                recorder,
                () -> Pace.lockstep(PERIOD_NS),
                () -> false)
            .orElseThrow();
    brought.timesRealTime += result.durationNs() * 1e-9;
    return result;
  }
}
