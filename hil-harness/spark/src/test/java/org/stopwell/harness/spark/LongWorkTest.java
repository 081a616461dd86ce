package org.stopwell.harness.spark;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.explore.Engine;
import org.stopwell.harness.explore.Finished;
import org.stopwell.harness.explore.RowSink;

/** The memory of the program that hands out the shards. */
class LongWorkTest {
  /** What may be left over by the machine itself, bytes; some 500 shards are in between. */
  private static final long SLACK = 8_000_000;

  @Test
  void tenMillionTrialsNeedNoMoreMemoryThanAHundredThousand() {
    Master master = Master.of("local[2]");
    ShippedJars none = new ShippedJars(List.of(), List.of());
    SparkEngine engine = new SparkEngine(master, none, 10_000, Optional.empty());
    try (Cluster joined = Cluster.join(master, none)) {
      long few = usedAfter(engine, joined, 50_000);
      usedAfter(engine, joined, 500_000);
      long many = usedAfter(engine, joined, 5_000_000);
      assertTrue(many - few < SLACK, few + " bytes grew to " + many);
    }
  }

  /** Does the work, and prints the memory in use for docs/proof.md. */
  private static long usedAfter(SparkEngine engine, Cluster joined, long units) {
    run(engine, joined, units);
    long used = usedBytes();
    System.out.printf(
        Locale.ROOT, "%d trials on Spark: memory in use %.2f MB%n", 2 * units, used / 1e6);
    return used;
  }

  private static void run(SparkEngine engine, Cluster joined, long units) {
    ToyWork work = ToyWork.of(units);
    Finished<ToyWork.Kept> all =
        engine.runOn(
            joined,
            work,
            Finished.none(work),
            RowSink.NOWHERE,
            f -> {},
            Engine.Watcher.NOBODY,
            () -> false);
    assertEquals(2 * units, all.summary().trials());
  }

  private static long usedBytes() {
    long least = Long.MAX_VALUE;
    for (int i = 0; i < 5; i++) {
      System.gc();
      Runtime machine = Runtime.getRuntime();
      least = Math.min(least, machine.totalMemory() - machine.freeMemory());
    }
    return least;
  }
}
