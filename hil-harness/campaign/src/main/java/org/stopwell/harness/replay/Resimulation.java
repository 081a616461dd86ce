package org.stopwell.harness.replay;

import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.fault.Trials;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.trace.TraceException;
import org.stopwell.harness.trial.TraceRecorder;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * A trial of the virtual bench, simulated again from its seed, so that its trace need not be
 * stored.
 *
 * @param result the result of this simulation
 * @param trace every step of it
 */
@SuppressWarnings("ArrayRecordComponent") // A trace is large and is only passed through.
public record Resimulation(TrialResult result, byte[] trace) {

  /**
   * Runs a recorded trial again and makes sure that it is the same one.
   *
   * @param run the run file
   * @param plan its plan
   * @param index the trial
   * @return the trial with its trace
   * @throws RunFileException when the run file cannot be read
   * @throws TraceException when the trial cannot be run again, or comes out differently
   */
  public static Resimulation of(RunFile run, Plan plan, int index)
      throws RunFileException, TraceException {
    BenchDescription bench = run.header().bench();
    if (!(bench.simulated() && bench.lockstep())) {
      throw refused(index, "no trace was kept, and a physical bench cannot repeat a trial exactly");
    }
    Optional<TrialResult> recorded =
        run.results().stream().filter(r -> r.index() == index).findFirst();
    if (recorded.isEmpty()) {
      throw refused(index, "was not run");
    }
    Resimulation again = again(plan, index, bench.periodNs(), true);
    if (again.result.stateHash() != recorded.get().stateHash()) {
      throw refused(
          index,
          "this build does not reproduce the recording (build "
              + run.header().build()
              + "): the state hash at the end differs, and no trace was kept to find the"
              + " first difference");
    }
    return again;
  }

  /** Runs a trial of the virtual bench; its trace is empty unless it is wanted. */
  static Resimulation again(Plan plan, int index, long periodNs, boolean traced) {
    @Nullable TraceRecorder trace = traced ? new TraceRecorder() : null;
    try (VirtualBench bench = new VirtualBench(periodNs)) {
      bench.open();
      TrialSpec spec = plan.trial(index);
      TrialResult result =
          Trials.run(
                  bench,
                  plan.controller(spec),
                  plan.policies(),
                  spec,
                  trace,
                  () -> Pace.lockstep(periodNs),
                  () -> false)
              .orElseThrow();
      return new Resimulation(result, trace == null ? new byte[0] : trace.bytes());
    }
  }

  private static TraceException refused(int index, String why) {
    return new TraceException(java.util.List.of("trial " + (index + 1) + ": " + why));
  }
}
