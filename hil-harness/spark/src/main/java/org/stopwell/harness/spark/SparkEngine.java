package org.stopwell.harness.spark;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import org.stopwell.harness.explore.BrokenPolicyException;
import org.stopwell.harness.explore.Engine;
import org.stopwell.harness.explore.EngineException;
import org.stopwell.harness.explore.Finished;
import org.stopwell.harness.explore.RowSink;
import org.stopwell.harness.explore.ShardSummary;
import org.stopwell.harness.explore.ShardWork;
import org.stopwell.harness.explore.UnitSet;
import org.stopwell.rig.time.Deadline;

/**
 * Does work on the workers of a Spark cluster. This side holds one summary and the shards in
 * progress, however many trials there are. Spark gives a shard to another worker when one dies, and
 * hands on one answer for each shard.
 */
public final class SparkEngine implements Engine {
  /** Shards handed out for each that can be done at once, so that no worker waits; assumed. */
  private static final int AHEAD = 2;

  /** How often a waiting engine looks around, ms; assumed. */
  private static final long LOOK_MS = 500;

  /** Time without a worker after which the user learns of it, ns; assumed. */
  private static final long PATIENCE_NS = 10_000_000_000L;

  private final Master master;
  private final ShippedJars jars;
  private final long shardUnits;
  private final Optional<Path> parquet;
  private Optional<Cluster> joined = Optional.empty();

  /**
   * An engine.
   *
   * @param master where the cluster is
   * @param jars what its workers get
   * @param shardUnits units of a shard; 0: the engine chooses
   * @param parquet directory of a table of all trials; empty: not wanted
   */
  SparkEngine(Master master, ShippedJars jars, long shardUnits, Optional<Path> parquet) {
    this.master = master;
    this.jars = jars;
    this.shardUnits = shardUnits;
    this.parquet = parquet;
  }

  @Override
  public <S extends ShardSummary<S>> Finished<S> run(
      ShardWork<S> work,
      Finished<S> before,
      RowSink rows,
      Consumer<Finished<S>> keeper,
      Watcher watcher,
      BooleanSupplier stop) {
    if (before.units().size() == work.units()) {
      return before;
    }
    if (joined.isEmpty()) {
      joined = Optional.of(Cluster.join(master, jars));
    }
    return runOn(joined.get(), work, before, rows, keeper, watcher, stop);
  }

  @Override
  public void close() {
    joined.ifPresent(Cluster::close);
    joined = Optional.empty();
  }

  /** Does the work on a cluster that is joined already. */
  <S extends ShardSummary<S>> Finished<S> runOn(
      Cluster cluster,
      ShardWork<S> work,
      Finished<S> before,
      RowSink rows,
      Consumer<Finished<S>> keeper,
      Watcher watcher,
      BooleanSupplier stop) {
    Optional<ParquetTable> table = parquet.map(place -> new ParquetTable(place, cluster.id()));
    ShardJob job =
        new ShardJob(
            ShardJob.pack(work),
            master.inThisProgram() ? List.of() : jars.pinned(),
            rows != RowSink.NOWHERE,
            table.map(t -> t.pending().toString()).orElse(""));
    table.ifPresent(t -> t.begin(before.units()));
    try {
      return new Desk<>(cluster, job, work, before, rows, table, keeper, watcher, stop).serve();
    } finally {
      table.ifPresent(ParquetTable::end);
    }
  }

  /** A shard that came back, or did not. */
  private record Back(UnitSet.Range shard, Optional<ShardAnswer> answer, String failure) {}

  /** Hands out shards and gathers what comes back, in one thread. */
  private final class Desk<S extends ShardSummary<S>> {
    private final Cluster cluster;
    private final ShardJob job;
    private final ShardWork<S> work;
    private final UnitSet before;
    private final RowSink rows;
    private final Optional<ParquetTable> table;
    private final Consumer<Finished<S>> keeper;
    private final Watcher watcher;
    private final BooleanSupplier stop;
    private final ShardSize size;
    private final BlockingQueue<Back> back = new LinkedBlockingQueue<>();
    private final Map<String, Integer> workers = new HashMap<>();
    private Finished<S> finished;
    private Deadline patience = Deadline.in(PATIENCE_NS);
    private Optional<RuntimeException> failure = Optional.empty();
    private boolean closed;
    private boolean interrupted;
    private long next;
    private int open;

    Desk(
        Cluster cluster,
        ShardJob job,
        ShardWork<S> work,
        Finished<S> before,
        RowSink rows,
        Optional<ParquetTable> table,
        Consumer<Finished<S>> keeper,
        Watcher watcher,
        BooleanSupplier stop) {
      this.cluster = cluster;
      this.job = job;
      this.work = work;
      this.before = before.units();
      this.finished = before;
      this.rows = rows;
      this.table = table;
      this.keeper = keeper;
      this.watcher = watcher;
      this.stop = stop;
      this.size = new ShardSize(shardUnits, work.unitTrials());
    }

    Finished<S> serve() {
      while (true) {
        handOut();
        if (open == 0) {
          break;
        }
        gather();
      }
      if (interrupted) {
        Thread.currentThread().interrupt();
      }
      // Who stops the program may stop Spark too; that is no failure.
      if (failure.isPresent() && !stop.getAsBoolean()) {
        throw failure.get();
      }
      return finished;
    }

    private void handOut() {
      int slots = cluster.slots();
      while (!closed && open < AHEAD * slots) {
        closed = stop.getAsBoolean();
        long left = work.units() - finished.units().size();
        Optional<UnitSet.Range> shard =
            closed ? Optional.empty() : before.gap(next, work.units(), size.next(left, slots));
        closed |= shard.isEmpty();
        shard.ifPresent(this::begin);
      }
    }

    private void begin(UnitSet.Range shard) {
      next = shard.to();
      try {
        cluster
            .begin(job, shard.from(), shard.to())
            .whenComplete(
                (answer, cause) ->
                    back.add(
                        new Back(
                            shard,
                            Optional.ofNullable(answer),
                            cause == null ? "" : Cluster.firstLine(cause))));
        open++;
      } catch (RuntimeException e) {
        lost(Cluster.firstLine(e));
      }
    }

    private void gather() {
      Back one;
      try {
        one = back.poll(LOOK_MS, TimeUnit.MILLISECONDS);
      } catch (InterruptedException e) {
        interrupted = true;
        closed = true;
        return;
      }
      if (one == null) {
        lookForWorkers();
        return;
      }
      open--;
      patience = Deadline.in(PATIENCE_NS);
      if (one.answer.isEmpty()) {
        lost(one.failure);
        return;
      }
      take(one.shard, one.answer.get());
    }

    private void lookForWorkers() {
      if (cluster.workers() > 0) {
        patience = Deadline.in(PATIENCE_NS);
      } else if (patience.passed()) {
        watcher.waiting(
            "waiting: "
                + master.url()
                + " has no worker for this program (none is there, or all are taken)");
        patience = Deadline.in(PATIENCE_NS);
      }
    }

    private void take(UnitSet.Range shard, ShardAnswer answer) {
      switch (answer.kind()) {
        case DONE -> {
          if (table.isPresent() && !table.get().accept(shard)) {
            fail(notShared(answer), false);
            return;
          }
          try {
            finished = finished.with(shard.from(), shard.to(), work.read(answer.summary()));
          } catch (IOException e) {
            throw new UncheckedIOException(e);
          }
          answer.rowsTo(rows);
          if (finished.units().size() == work.units()) {
            table.ifPresent(ParquetTable::complete);
          }
          keeper.accept(finished);
          size.finished(shard.size(), answer.busyNs());
          int worker = workers.computeIfAbsent(answer.worker(), name -> workers.size());
          watcher.finished(worker, shard.size() * work.unitTrials(), answer.busyNs());
        }
        case OTHER_BUILD ->
            fail(
                "--master %s: worker %s on %s is refused: %s. Remove that jar from the worker; the workers get theirs from this program"
                    .formatted(master.url(), answer.worker(), answer.host(), answer.text()),
                false);
        case NO_TABLE -> fail(notShared(answer), false);
        case BROKEN_POLICY -> fail(new BrokenPolicyException(answer.text()));
        case FAILED ->
            fail(
                "--master %s: units %d to %d failed on worker %s on %s: %s"
                    .formatted(
                        master.url(),
                        shard.from(),
                        shard.to() - 1,
                        answer.worker(),
                        answer.host(),
                        answer.text()),
                true);
      }
    }

    private String notShared(ShardAnswer answer) {
      return "--out: %s is not the same directory for worker %s on %s. Give an output directory that this program and all workers share, or add --no-parquet"
          .formatted(parquet.map(Path::toString).orElse(""), answer.worker(), answer.host());
    }

    private void lost(String cause) {
      fail(
          "--master %s: the cluster ended the work: %s. What is finished is kept; the same command continues it"
              .formatted(master.url(), cause),
          true);
    }

    private void fail(String message, boolean begun) {
      fail(new EngineException(message, begun));
    }

    /** The first failure counts; the shards in progress still come back. */
    private void fail(RuntimeException first) {
      closed = true;
      failure = failure.or(() -> Optional.of(first));
    }
  }
}
