package org.stopwell.harness.spark;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
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
    ShippedJars none = new ShippedJars(List.of());
    SparkEngine engine = new SparkEngine(master, none, 10_000);
    try (Cluster joined = Cluster.join(master, none)) {
      run(engine, joined, 50_000);
      long few = usedBytes();
      run(engine, joined, 5_000_000);
      long many = usedBytes();
      assertTrue(many - few < SLACK, few + " bytes grew to " + many);
    }
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
