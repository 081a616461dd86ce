package org.stopwell.harness.replay;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.IntConsumer;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.BenchDescription;

/**
 * The behaviour of this build, with the same or other settings, in every recorded trial.
 *
 * <p>A trial of the virtual bench is simulated again from its seed to its end. For a physical bench
 * only the recorded trace can be replayed: exact up to the first different output, unknown after
 * it.
 */
public final class CampaignReplay {
  private final Plan plan;
  private final Plan other;
  private final BenchDescription bench;
  private final boolean again;

  /**
   * One trial: recorded and replayed.
   *
   * @param recorded its recorded result
   * @param replayed what comes of it now, empty where only the trace can be replayed
   * @param identical whether every output and every state is the same
   * @param difference the first step that differs, empty when none does or it is not known
   */
  public record Pair(
      TrialResult recorded,
      Optional<TrialResult> replayed,
      boolean identical,
      Optional<StepComparison.Difference> difference) {}

  /**
   * A replay of a whole run.
   *
   * @param plan the plan as it was recorded
   * @param other the same plan with the settings to try
   * @param bench what the run was made on
   */
  public CampaignReplay(Plan plan, Plan other, BenchDescription bench) {
    this.plan = plan;
    this.other = other;
    this.bench = bench;
    again = bench.simulated() && bench.lockstep();
  }

  /**
   * Replays every recorded trial, with sentinels, excluded and spoiled trials.
   *
   * @param run the run file
   * @param jobs how many trials at once
   * @param progress receives how many trials are done
   * @return the trials in run order; those that never began, and those of a real bench without a
   *     trace, are left out
   * @throws RunFileException when the run file cannot be read
   */
  public List<Pair> run(RunFile run, int jobs, IntConsumer progress) throws RunFileException {
    ExecutorService pool = Executors.newFixedThreadPool(jobs);
    try {
      Deque<Future<Pair>> inFlight = new ArrayDeque<>();
      List<Pair> pairs = new ArrayList<>();
      for (TrialResult recorded : run.results()) {
        // The run file is read here, by one thread; the work is done by many.
        Optional<byte[]> trace = run.trace(recorded.index());
        if (recorded.steps() == 0 || (trace.isEmpty() && !again)) {
          continue;
        }
        if (inFlight.size() >= 4 * jobs) {
          pairs.add(get(inFlight.removeFirst()));
          progress.accept(pairs.size());
        }
        inFlight.add(pool.submit(() -> again ? anew(recorded, trace) : fed(recorded, trace)));
      }
      while (!inFlight.isEmpty()) {
        pairs.add(get(inFlight.removeFirst()));
        progress.accept(pairs.size());
      }
      return pairs;
    } finally {
      pool.shutdownNow();
    }
  }

  /** A trial of the virtual bench: its new end, and the first difference if it can be found. */
  private Pair anew(TrialResult recorded, Optional<byte[]> trace) {
    TrialResult now = Resimulation.again(other, recorded.index(), bench.periodNs(), false).result();
    if (same(now, recorded)) {
      return new Pair(recorded, Optional.of(now), true, Optional.empty());
    }
    Optional<StepComparison.Difference> difference =
        trace
            .or(() -> traceOf(recorded))
            .map(t -> compare(recorded, t))
            .flatMap(StepComparison::first);
    return new Pair(recorded, Optional.of(now), false, difference);
  }

  /**
   * The trace of the recorded trial, if this build with the recorded settings reproduces it
   * exactly.
   */
  private Optional<byte[]> traceOf(TrialResult recorded) {
    Resimulation then = Resimulation.again(plan, recorded.index(), bench.periodNs(), true);
    return same(then.result(), recorded) ? Optional.of(then.trace()) : Optional.empty();
  }

  /** The state hash at the end stands for every state before it. */
  private static boolean same(TrialResult a, TrialResult b) {
    return a.stateHash() == b.stateHash() && a.steps() == b.steps();
  }

  private Pair fed(TrialResult recorded, Optional<byte[]> trace) {
    StepComparison comparison = compare(recorded, trace.orElseThrow());
    return new Pair(recorded, Optional.empty(), comparison.identical(), comparison.first());
  }

  private StepComparison compare(TrialResult recorded, byte[] trace) {
    ControllerSettings settings = other.controller(other.trial(recorded.index()));
    return StepComparison.of(trace, settings, other.policies());
  }

  private static Pair get(Future<Pair> future) {
    try {
      return future.get();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("interrupted", e);
    } catch (ExecutionException e) {
      throw new IllegalStateException("a replay failed with an unexpected error", e.getCause());
    }
  }
}
