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
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.trial.PolicyFailure;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.BenchDescription;

/**
 * The behaviour of this build, with the same or other settings, in every recorded trial.
 *
 * <p>A trial of the virtual bench is simulated again from its seed to its end. For a physical bench
 * only the recorded trace can be replayed: exact up to the first different output, unknown after
 * it.
 *
 * <p>With the recorded settings, the recorded results are compared with those computed again: by
 * simulation on the virtual bench, from the recorded truth on a physical one.
 */
public final class CampaignReplay {
  private final Plan plan;
  private final Plan other;
  private final BenchDescription bench;
  private final boolean again;
  private final boolean compared;

  /**
   * One trial: recorded and replayed.
   *
   * @param recorded its recorded result
   * @param replayed what comes of it now, empty where only the trace can be replayed
   * @param identical whether every output and every state is the same
   * @param difference the first step that differs, empty when none does or it is not known
   * @param result the recorded result against the one computed again, empty with other settings or
   *     where a step differs
   */
  public record Pair(
      TrialResult recorded,
      Optional<TrialResult> replayed,
      boolean identical,
      Optional<StepComparison.Difference> difference,
      Optional<ResultCheck> result) {}

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
    compared = plan == other;
  }

  /**
   * Whether the bench of the run is simulated again, to the end of each trial.
   *
   * @return false for a bench whose trials cannot be repeated
   */
  public boolean simulates() {
    return again;
  }

  /**
   * Replays every recorded trial, with sentinels, excluded and spoiled trials.
   *
   * @param run the run file
   * @param results its trials under the names of the plan, which a run file of a blinded run does
   *     not hold
   * @param jobs how many trials at once
   * @param progress receives how many trials are done
   * @return the trials in run order; those in which a policy from outside failed, those of a real
   *     bench without a trace, and those of it that never began are left out
   * @throws RunFileException when the run file cannot be read
   */
  public List<Pair> run(RunFile run, List<TrialResult> results, int jobs, IntConsumer progress)
      throws RunFileException {
    ExecutorService pool = Executors.newFixedThreadPool(jobs);
    try {
      Deque<Future<Pair>> inFlight = new ArrayDeque<>();
      List<Pair> pairs = new ArrayList<>();
      for (TrialResult recorded : results) {
        // The run file is read here, by one thread; the work is done by many.
        Optional<byte[]> trace = run.readableTrace(recorded.index());
        if (isLeftOut(recorded, trace.isPresent())) {
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

  /** The virtual bench always begins: a trial of it without a step is a claim to be checked. */
  private boolean isLeftOut(TrialResult recorded, boolean traced) {
    return again
        ? PolicyFailure.isIn(recorded) && plan.policies() != Policies.BUILT_IN
        : recorded.steps() == 0 || !traced;
  }

  /**
   * The result of one trial against the one computed again.
   *
   * @param recorded the recorded result
   * @param trace its trace, of the recording or of an equal simulation
   * @return every value that differs, empty where a policy from outside failed
   */
  public Optional<ResultCheck> check(TrialResult recorded, byte[] trace) {
    if (isLeftOut(recorded, true)) {
      return Optional.empty();
    }
    return Optional.of(
        again
            ? ResultCheck.simulated(
                recorded,
                Resimulation.again(plan, recorded.index(), bench.periodNs(), true).result())
            : ResultCheck.judged(recorded, plan.trial(recorded.index()), trace));
  }

  /** A trial of the virtual bench: its new end, and the first difference if it can be found. */
  private Pair anew(TrialResult recorded, Optional<byte[]> trace) {
    // The error chain of the result needs the trace.
    TrialResult now =
        Resimulation.again(other, recorded.index(), bench.periodNs(), compared).result();
    if (same(now, recorded)) {
      return new Pair(
          recorded,
          Optional.of(now),
          true,
          Optional.empty(),
          compared ? Optional.of(ResultCheck.simulated(recorded, now)) : Optional.empty());
    }
    Optional<StepComparison.Difference> difference =
        trace
            .or(() -> traceOf(recorded))
            .map(t -> compare(recorded, t))
            .flatMap(StepComparison::first);
    return new Pair(recorded, Optional.of(now), false, difference, Optional.empty());
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
    byte[] steps = trace.orElseThrow();
    StepComparison comparison = compare(recorded, steps);
    return new Pair(
        recorded,
        Optional.empty(),
        comparison.identical(),
        comparison.first(),
        compared && comparison.identical() ? check(recorded, steps) : Optional.empty());
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
