package org.stopwell.harness.campaign;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.claim.Repeats;
import org.stopwell.harness.evidence.SentinelWatch;
import org.stopwell.harness.evidence.StoppingWatch;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.standing.BenchStanding;
import org.stopwell.harness.trial.Onlooker;
import org.stopwell.harness.trial.PolicyFailure;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;

/**
 * Runs the trials of a plan, several at once where the bench permits it, and delivers the results
 * in run order. The results do not depend on how many run at once.
 */
public final class Campaign {
  /**
   * Number of consecutive rig faults that ends a campaign, because more trials would only wear the
   * rig; assumed.
   */
  static final int RIG_FAULTS_IN_A_ROW = 3;

  /** Trials in flight per job: enough that no job waits for the slowest. */
  private static final int IN_FLIGHT = 4;

  /** Trials per transaction at most. */
  private static final int BATCH = 64;

  private final Plan plan;
  private final Map<Integer, TrialResult> done = new TreeMap<>();
  private final int jobs;
  private final BooleanSupplier stop;
  private final Sink sink;
  private @Nullable BenchStanding standing;
  private Supplier<Onlooker> onlookers = () -> Onlooker.NOBODY;
  private final Optional<StoppingWatch> watch;
  private final Optional<SentinelWatch> sentinels;
  private volatile boolean abandon;

  /** Where finished trials go. */
  public interface Sink {
    /**
     * Stores finished trials. When the method returns, they are safe.
     *
     * @param finished trials in run order
     * @throws RunFileException when they cannot be kept
     */
    void keep(List<RunFile.Entry> finished) throws RunFileException;
  }

  /** How a campaign ended. */
  public enum End {
    /** Every trial was run. */
    COMPLETE,
    /** The stopping rule of the plan decided before the last trial. */
    DECIDED,
    /** A stop was requested. */
    INTERRUPTED,
    /** The rig failed too often in a row. */
    RIG_BROKEN,
    /** A policy from outside did not return; its thread cannot be ended. */
    POLICY_STUCK,
    /** A sentinel was bad: the bench needs service first. */
    BAD_SENTINEL
  }

  /**
   * A campaign.
   *
   * @param plan what to run
   * @param done trials that are finished already
   * @param jobs how many trials at once, at least 1
   * @param stop asked all the time; when true the campaign ends as soon as everything is safe
   * @param sink receives finished trials
   */
  public Campaign(Plan plan, List<TrialResult> done, int jobs, BooleanSupplier stop, Sink sink) {
    if (!(jobs >= 1)) {
      throw new IllegalArgumentException("jobs " + jobs + " is below 1");
    }
    this.plan = plan;
    done.forEach(result -> this.done.put(result.index(), result));
    this.jobs = jobs;
    this.stop = stop;
    this.sink = sink;
    this.watch =
        StoppingWatch.of(
            plan.protocol(),
            plan.conditions(),
            plan.claims(),
            Repeats.of(plan.protocol(), plan.analysis()));
    this.sentinels =
        plan.protocol().sentinels().filter(SentinelRule::stops).map(SentinelWatch::new);
  }

  /**
   * States whether the bench may decide. Without this statement a physical bench may not.
   *
   * @param benchStanding its standing
   * @return this campaign
   */
  public Campaign under(BenchStanding benchStanding) {
    standing = benchStanding;
    return this;
  }

  /**
   * Shows every step to onlookers. They change nothing and are never waited for.
   *
   * @param perBench gives an onlooker for each bench; trials on one bench follow each other
   * @return this campaign
   */
  public Campaign watchedBy(Supplier<Onlooker> perBench) {
    onlookers = perBench;
    return this;
  }

  /**
   * Runs every trial that is not done yet. All benches are safe and closed when it returns.
   *
   * @param first an open bench
   * @param maker makes further ones
   * @return how it ended
   * @throws RunFileException when finished trials cannot be kept; those kept before are safe
   */
  public End run(Bench first, BenchMaker maker) throws RunFileException {
    ExecutorService pool = Executors.newFixedThreadPool(jobs);
    TraceChoice traces = new TraceChoice(!first.describe().simulated() || plan.isExternal());
    BenchStanding fit = standing == null ? BenchStanding.unknown(first.describe()) : standing;
    try (Worker worker = new Worker(first, maker, plan, fit, onlookers, traces)) {
      return run(pool, worker, traces);
    } finally {
      abandon = true;
      pool.shutdown();
      awaitEnd(pool);
    }
  }

  private End run(ExecutorService pool, Worker worker, TraceChoice traces) throws RunFileException {
    Deque<Future<Optional<RunFile.Entry>>> inFlight = new ArrayDeque<>();
    List<RunFile.Entry> batch = new ArrayList<>();
    int next = nextOpen(0);
    int noted = 0;
    int rigFaults = 0;
    boolean broken = false;
    boolean cut = false;
    boolean decided = false;
    boolean wrong = false;
    boolean stuck = false;
    try {
      for (TrialResult before : done.values()) {
        decided |= watch.isPresent() && watch.get().add(before).isPresent();
        // Whoever goes on with a campaign has seen to its bad sentinels.
        sentinels.ifPresent(s -> s.add(before));
      }
      abandon |= decided;
      while (true) {
        while (next < plan.trials() && inFlight.size() < jobs * IN_FLIGHT && !giveUp()) {
          TrialSpec spec = plan.trial(next);
          inFlight.add(pool.submit(() -> worker.run(spec, this::giveUp)));
          next = nextOpen(next + 1);
        }
        if (inFlight.isEmpty()) {
          break;
        }
        if (batch.size() >= BATCH || !inFlight.getFirst().isDone()) {
          flush(batch);
        }
        Optional<RunFile.Entry> finished = get(inFlight.removeFirst());
        // What comes after a trial that was given up is given up too: no run file has a gap.
        cut |= finished.isEmpty();
        if (cut) {
          continue;
        }
        for (; noted < finished.get().result().index(); noted++) {
          if (done.containsKey(noted)) {
            traces.skip(Objects.requireNonNull(done.get(noted)));
          }
        }
        batch.add(traces.choose(finished.get()));
        boolean rigFault = finished.get().result().verdict() == Verdict.RIG_FAULT;
        rigFaults = rigFault ? rigFaults + 1 : 0;
        broken |= rigFaults >= RIG_FAULTS_IN_A_ROW;
        decided = watch.isPresent() && watch.get().add(finished.get().result()).isPresent();
        // After the last trial there is nothing to stop.
        wrong =
            sentinels.isPresent()
                && sentinels.get().add(finished.get().result()).isPresent()
                && finished.get().result().index() < plan.trials() - 1;
        // What is in flight beyond the deciding trial is given up, however many run at once.
        stuck = isStuck(finished.get().result());
        cut |= decided || wrong || stuck;
        abandon |= broken || cut;
      }
    } finally {
      flush(batch);
    }
    if (stuck) {
      return End.POLICY_STUCK;
    }
    if (decided) {
      return End.DECIDED;
    }
    if (next >= plan.trials() && !cut) {
      return End.COMPLETE;
    }
    if (wrong) {
      return End.BAD_SENTINEL;
    }
    return broken ? End.RIG_BROKEN : End.INTERRUPTED;
  }

  static boolean isStuck(TrialResult trial) {
    return trial.code().equals(PolicyFailure.Kind.POLICY_STUCK.name());
  }

  private int nextOpen(int from) {
    int index = from;
    while (done.containsKey(index)) {
      index++;
    }
    return index;
  }

  private boolean giveUp() {
    return abandon || stop.getAsBoolean();
  }

  private void flush(List<RunFile.Entry> batch) throws RunFileException {
    if (!batch.isEmpty()) {
      sink.keep(List.copyOf(batch));
      batch.clear();
    }
  }

  private static <T> T get(Future<T> future) {
    boolean interrupted = false;
    try {
      while (true) {
        try {
          return future.get();
        } catch (InterruptedException e) {
          interrupted = true;
        } catch (ExecutionException e) {
          if (e.getCause() instanceof Error error) {
            throw error;
          }
          throw new IllegalStateException("a trial failed with an unexpected error", e.getCause());
        }
      }
    } finally {
      if (interrupted) {
        Thread.currentThread().interrupt();
      }
    }
  }

  private static void awaitEnd(ExecutorService pool) {
    boolean interrupted = false;
    try {
      while (true) {
        try {
          if (pool.awaitTermination(1, TimeUnit.MINUTES)) {
            return;
          }
        } catch (InterruptedException e) {
          interrupted = true;
        }
      }
    } finally {
      if (interrupted) {
        Thread.currentThread().interrupt();
      }
    }
  }
}
