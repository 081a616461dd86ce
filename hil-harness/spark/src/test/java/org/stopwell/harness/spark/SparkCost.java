package org.stopwell.harness.spark;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;

import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.explore.Engine;
import org.stopwell.harness.explore.ExploreWork;
import org.stopwell.harness.explore.Finished;
import org.stopwell.harness.explore.Pool;
import org.stopwell.harness.explore.RowSink;
import org.stopwell.harness.explore.ShardSummary;
import org.stopwell.harness.explore.ShardWork;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.Space;

/**
 * What a trial costs on Spark, by the processor time of all its processes, against the pool. Not
 * part of the usual tests, because it takes minutes; docs/proof.md has the command.
 */
class SparkCost {
  private static final int BLOCKS = 2;
  private static final int STUB_TRIALS = 10_000;
  private static final int REAL_TRIALS = 6_000;

  private static final String SPACE =
      """
      space: 1
      name: cost
      plan: %s
      condition: half-wet/steady
      outcome: stop_error
      design: latin-hypercube
      trials: %d
      seed: %d
      factors:
        scene.canal.foramen_diameter_mm: {from: 0.35, to: 0.65}
        scene.hand.feed_mm_per_s: {from: 0.3, to: 1.5, log: true}
      """;

  @TempDir Path dir;

  /** Processor time of processes, user and system. */
  private static double seconds(List<ProcessHandle> processes) {
    return processes.stream()
        .map(p -> p.info().totalCpuDuration().orElse(Duration.ZERO))
        .mapToDouble(d -> d.toNanos() / 1e9)
        .sum();
  }

  /** Does the work; adds the processor time of the processes. */
  private static <S extends ShardSummary<S>> byte[] bytes(
      Engine engine, ShardWork<S> work, List<ProcessHandle> processes, double[] cost, int to) {
    double before = seconds(processes);
    S summary =
        engine
            .run(
                work,
                Finished.none(work),
                RowSink.NOWHERE,
                f -> {},
                Engine.Watcher.NOBODY,
                () -> false)
            .summary();
    cost[to] += seconds(processes) - before;
    return summary.toBytes();
  }

  private ExploreWork real(int seed) throws Exception {
    Path plan = Path.of("../../docs/plans/reference-canal.yaml").toRealPath();
    Source source =
        new Source(dir.resolve("cost.yaml").toString(), SPACE.formatted(plan, REAL_TRIALS, seed));
    return ExploreWork.of(Space.read(source, Policies.BUILT_IN), "this build", 1_000_000);
  }

  /** Blocks by turns, so that the load of the machine falls on both. The first one warms up. */
  @Test
  void theSameBytesAreGivenAndTheRatioOfTheProcessorTimesIsPrinted() throws Exception {
    System.setProperty("spark.executor.memory", "512m");
    List<ProcessHandle> here = List.of(ProcessHandle.current());
    double[] pool = new double[2];
    double[] spark = new double[2];
    Pool alone = new Pool(2);
    try (LocalCluster cluster = new LocalCluster(dir);
        SparkEngine engine =
            new SparkEngine(
                Master.of(cluster.url()), LocalCluster.jars(dir), 0, Optional.empty())) {
      List<Process> workers = List.of(cluster.worker("worker1"), cluster.worker("worker2"));
      bytes(engine, ToyWork.of(1), here, new double[1], 0);
      for (int block = 0; block <= BLOCKS; block++) {
        List<ProcessHandle> all = new ArrayList<>(here);
        workers.forEach(
            w -> Stream.concat(Stream.of(w.toHandle()), w.descendants()).forEach(all::add));
        double[] poolHere = block == 0 ? new double[2] : pool;
        double[] sparkHere = block == 0 ? new double[2] : spark;
        ToyWork stub = ToyWork.of(STUB_TRIALS / 2);
        assertArrayEquals(
            bytes(alone, stub, here, poolHere, 0), bytes(engine, stub, all, sparkHere, 0));
        ExploreWork real = real(block);
        assertArrayEquals(
            bytes(alone, real, here, poolHere, 1), bytes(engine, real, all, sparkHere, 1));
      }
    }
    System.out.printf(
        Locale.ROOT,
        "Processor time, s: %d stub trials, pool %.2f, Spark %.2f; %d real trials, pool %.2f,"
            + " Spark %.2f; Spark over pool %.3f (real trials alone %.3f)%n",
        BLOCKS * STUB_TRIALS,
        pool[0],
        spark[0],
        BLOCKS * REAL_TRIALS,
        pool[1],
        spark[1],
        (spark[0] + spark[1]) / (pool[0] + pool[1]),
        spark[1] / pool[1]);
  }
}
