package org.stopwell.harness.spark;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

/** Shards of some seconds, and enough of them at the end. */
class ShardSizeTest {
  @Test
  void theFirstShardsAreShort() {
    assertEquals(32, new ShardSize(0, 2).next(1_000_000, 8));
  }

  @Test
  void laterShardsTakeSomeSeconds() {
    ShardSize size = new ShardSize(0, 2);
    size.finished(100, 1_000_000_000L);
    assertEquals(400, size.next(1_000_000, 8));
  }

  @Test
  void atTheEndEveryWorkerGetsSome() {
    ShardSize size = new ShardSize(0, 2);
    size.finished(100, 1_000_000_000L);
    assertEquals(25, size.next(800, 8));
    assertEquals(1, size.next(3, 8));
  }

  @Test
  void aShardStaysSmallEvenWithoutPhysics() {
    ShardSize size = new ShardSize(0, 2);
    size.finished(1_000_000, 1_000_000L);
    assertEquals(50_000, size.next(100_000_000, 8));
  }
}
