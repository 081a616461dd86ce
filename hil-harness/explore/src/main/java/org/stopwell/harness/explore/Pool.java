package org.stopwell.harness.explore;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import org.stopwell.rig.time.MachineClock;

/**
 * The engine in this process: some threads, each with one shard at a time. It holds one summary and
 * never more than one shard for each thread.
 */
public final class Pool implements Engine {
  /** Trials of a shard, about; assumed: some seconds of work. */
  private static final int SHARD_TRIALS = 64;

  /** Shards that each thread gets at least, where there are so many units; assumed. */
  private static final int SHARES = 4;

  private final int workers;
  private final long shardUnits;

  /**
   * A pool that chooses the size of its shards.
   *
   * @param workers threads, at least 1
   */
  public Pool(int workers) {
    this(workers, 0);
  }

  /**
   * A pool.
   *
   * @param workers threads, at least 1
   * @param shardUnits units of a shard; 0: the pool chooses
   */
  public Pool(int workers, long shardUnits) {
    if (!(workers >= 1 && shardUnits >= 0)) {
      throw new IllegalArgumentException(workers + " workers, shards of " + shardUnits + " units");
    }
    this.workers = workers;
    this.shardUnits = shardUnits;
  }

  @Override
  public <S extends ShardSummary<S>> Finished<S> run(
      ShardWork<S> work,
      Finished<S> before,
      RowSink rows,
      Consumer<Finished<S>> keeper,
      Watcher watcher,
      BooleanSupplier stop) {
    long size = shardUnits > 0 ? shardUnits : size(work);
    Desk<S> desk = new Desk<>(work, before, size, keeper, watcher, stop);
    ExecutorService threads = Executors.newFixedThreadPool(workers);
    List<Future<?>> running = new ArrayList<>();
    try {
      for (int i = 0; i < workers; i++) {
        int worker = i;
        running.add(threads.submit(() -> desk.serve(worker, rows)));
      }
      running.forEach(thread -> await(thread, desk));
    } finally {
      threads.shutdown();
    }
    desk.rethrow();
    return desk.finished();
  }

  /** Small enough for every thread to have some. */
  private long size(ShardWork<?> work) {
    long share = (work.units() + (long) SHARES * workers - 1) / ((long) SHARES * workers);
    return Math.max(1, Math.min(share, SHARD_TRIALS / Math.max(1, work.unitTrials())));
  }

  private static void await(Future<?> thread, Desk<?> desk) {
    boolean interrupted = false;
    try {
      while (true) {
        try {
          thread.get();
          return;
        } catch (InterruptedException e) {
          interrupted = true;
          desk.close();
        } catch (ExecutionException e) {
          desk.failed(Objects.requireNonNullElse(e.getCause(), e));
          return;
        }
      }
    } finally {
      if (interrupted) {
        Thread.currentThread().interrupt();
      }
    }
  }

  /** Hands out shards and gathers what comes back. A failure loses only its own shard. */
  private static final class Desk<S extends ShardSummary<S>> {
    private final ShardWork<S> work;
    private final long size;
    private final Consumer<Finished<S>> keeper;
    private final Watcher watcher;
    private final BooleanSupplier stop;
    private final UnitSet open;
    private final AtomicBoolean closed = new AtomicBoolean();
    private long next;
    private Finished<S> finished;
    private Optional<Throwable> failure = Optional.empty();

    Desk(
        ShardWork<S> work,
        Finished<S> before,
        long size,
        Consumer<Finished<S>> keeper,
        Watcher watcher,
        BooleanSupplier stop) {
      this.work = work;
      this.open = before.units();
      this.finished = before;
      this.size = size;
      this.keeper = keeper;
      this.watcher = watcher;
      this.stop = stop;
    }

    void serve(int worker, RowSink rows) {
      try {
        for (Optional<UnitSet.Range> shard = take(); shard.isPresent(); shard = take()) {
          long from = shard.get().from();
          long to = shard.get().to();
          long began = MachineClock.nowNs();
          S summary = work.shard(from, to, rows);
          give(from, to, summary);
          watcher.finished(worker, (to - from) * work.unitTrials(), MachineClock.nowNs() - began);
        }
      } finally {
        close(); // the others end too, with what they have
      }
    }

    private synchronized Optional<UnitSet.Range> take() {
      if (closed.get() || stop.getAsBoolean()) {
        return Optional.empty();
      }
      Optional<UnitSet.Range> shard = open.gap(next, work.units(), size);
      next = shard.map(UnitSet.Range::to).orElse(work.units());
      return shard;
    }

    private synchronized void give(long from, long to, S summary) {
      finished = finished.with(from, to, summary);
      keeper.accept(finished);
    }

    void close() {
      closed.set(true);
    }

    synchronized void failed(Throwable cause) {
      if (failure.isEmpty()) {
        failure = Optional.of(cause);
      }
    }

    synchronized void rethrow() {
      failure.ifPresent(
          cause -> {
            if (cause instanceof Error error) {
              throw error;
            }
            if (cause instanceof RuntimeException known) {
              throw known;
            }
            throw new IllegalStateException("a shard failed with an unexpected error", cause);
          });
    }

    synchronized Finished<S> finished() {
      return finished;
    }
  }
}
