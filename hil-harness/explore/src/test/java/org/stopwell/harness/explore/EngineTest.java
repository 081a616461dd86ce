package org.stopwell.harness.explore;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.math.BigInteger;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLongArray;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.rig.random.RandomStream;

/** Work in shards: any split gives the same bytes, and no unit is lost or counted twice. */
class EngineTest {
  private static final ToyWork WORK = new ToyWork(500, 3);

  @TempDir Path dir;

  @ParameterizedTest(name = "{0} workers, shards of {1} units")
  @CsvSource({"1,1", "1,64", "2,1", "2,7", "2,64", "4,1", "4,7", "4,64", "3,1000", "2,0"})
  void theBytesDoNotDependOnWorkersAndShards(int workers, long size) {
    byte[] alone = WORK.shard(0, 500, RowSink.NOWHERE).toBytes();
    AtomicLongArray seen = new AtomicLongArray(1500);
    RowSink rows =
        (trial, values) -> {
          seen.incrementAndGet((int) trial);
          assertEquals(ToyWork.value(trial), values[0]);
        };
    Finished<ToyWork.Kept> all =
        new Pool(workers, size)
            .run(WORK, Finished.none(WORK), rows, f -> {}, Engine.Watcher.NOBODY, () -> false);
    assertArrayEquals(alone, all.summary().toBytes());
    assertEquals(List.of(new UnitSet.Range(0, 500)), all.units().ranges());
    for (int i = 0; i < 1500; i++) {
      assertEquals(1, seen.get(i), "trial " + i);
    }
  }

  @Test
  void mergingIsAssociativeAndCommutativeWhateverTheShards() {
    byte[] alone = WORK.shard(0, 500, RowSink.NOWHERE).toBytes();
    for (long seed = 0; seed < 100; seed++) {
      RandomStream random = RandomStream.of(seed, "shards");
      List<ToyWork.Kept> parts = new ArrayList<>();
      for (long from = 0; from < 500; ) {
        long to = Math.min(500, from + 1 + (long) random.nextBetween(0, 90));
        parts.add(WORK.shard(from, to, RowSink.NOWHERE));
        from = to;
      }
      while (parts.size() > 1) {
        // Any two of them, in any order: this is any grouping.
        ToyWork.Kept one = parts.remove((int) random.nextBetween(0, parts.size()));
        ToyWork.Kept other = parts.remove((int) random.nextBetween(0, parts.size()));
        parts.add(one.merge(other));
      }
      assertArrayEquals(alone, parts.get(0).toBytes(), "seed " + seed);
    }
  }

  @Test
  void mergingLeavesBothSummariesAsTheyWere() {
    ToyWork.Kept one = WORK.shard(0, 10, RowSink.NOWHERE);
    ToyWork.Kept other = WORK.shard(10, 30, RowSink.NOWHERE);
    byte[] before = one.toBytes();
    byte[] beside = other.toBytes();
    one.merge(other);
    assertArrayEquals(before, one.toBytes());
    assertArrayEquals(beside, other.toBytes());
  }

  @Test
  void bytesComeBackAsTheSameSummary() throws IOException {
    byte[] bytes = WORK.shard(3, 77, RowSink.NOWHERE).toBytes();
    assertArrayEquals(bytes, WORK.read(bytes).toBytes());
  }

  @Test
  void sumsAreExactBeyond64Bits() {
    WideSums sums = new WideSums(1);
    BigInteger exact = BigInteger.ZERO;
    RandomStream random = RandomStream.of(5, "sums");
    for (int i = 0; i < 10_000; i++) {
      long value = i % 3 == 0 ? Long.MAX_VALUE : i % 7 == 0 ? Long.MIN_VALUE : random.nextLong();
      sums.add(0, value);
      exact = exact.add(BigInteger.valueOf(value));
      assertEquals(exact, sums.exact(0));
    }
    assertTrue(exact.bitLength() > 64);
  }

  @Test
  void aStoppedCampaignGoesOnWhereItEndedWithNothingTwice() throws IOException {
    KeptShards<ToyWork.Kept> file = new KeptShards<>(dir, WORK);
    AtomicInteger shards = new AtomicInteger();
    Finished<ToyWork.Kept> part =
        new Pool(2, 7)
            .run(
                WORK,
                Finished.none(WORK),
                RowSink.NOWHERE,
                file::keep,
                (worker, trials, ns) -> shards.incrementAndGet(),
                () -> shards.get() >= 20);
    file.write(part);
    assertTrue(part.units().size() >= 140 && part.units().size() < 500, part.units().toString());
    List<Long> later = Collections.synchronizedList(new ArrayList<>());
    Finished<ToyWork.Kept> all =
        new Pool(3, 11)
            .run(
                WORK,
                file.read().orElseThrow(),
                (trial, values) -> later.add(trial),
                file::keep,
                Engine.Watcher.NOBODY,
                () -> false);
    assertEquals(1500 - 3 * part.units().size(), later.size());
    assertArrayEquals(WORK.shard(0, 500, RowSink.NOWHERE).toBytes(), all.summary().toBytes());
  }

  @Test
  void aFailureLosesOnlyItsOwnShard() throws IOException {
    KeptShards<ToyWork.Kept> file = new KeptShards<>(dir, WORK);
    List<Finished<ToyWork.Kept>> kept = new ArrayList<>();
    assertThrows(
        IllegalStateException.class,
        () ->
            new Pool(2, 10)
                .run(
                    WORK,
                    Finished.none(WORK),
                    (trial, values) -> {
                      if (trial == 900) {
                        throw new IllegalStateException("a trial that cannot be");
                      }
                    },
                    kept::add,
                    Engine.Watcher.NOBODY,
                    () -> false));
    Finished<ToyWork.Kept> last = kept.get(kept.size() - 1);
    assertTrue(last.units().size() >= 290, last.units().toString());
    file.write(last);
    Finished<ToyWork.Kept> all =
        new Pool(1)
            .run(
                WORK,
                file.read().orElseThrow(),
                RowSink.NOWHERE,
                f -> {},
                Engine.Watcher.NOBODY,
                () -> false);
    assertArrayEquals(WORK.shard(0, 500, RowSink.NOWHERE).toBytes(), all.summary().toBytes());
  }

  @Test
  void aFileOfOtherWorkAndADamagedOneAreRefused() throws IOException {
    new KeptShards<>(dir, WORK).write(Finished.none(WORK).with(0, 9, WORK.empty()));
    KeptShards<ToyWork.Kept> other = new KeptShards<>(dir, new ToyWork(501, 3));
    assertTrue(message(other).contains("another space"), message(other));
    Path file = dir.resolve(KeptShards.NAME);
    byte[] bytes = Files.readAllBytes(file);
    bytes[bytes.length / 2] ^= 1;
    Files.write(file, bytes);
    KeptShards<ToyWork.Kept> damaged = new KeptShards<>(dir, WORK);
    assertTrue(message(damaged).contains("damaged"), message(damaged));
    Files.write(file, new byte[3]);
    assertTrue(message(damaged).contains("damaged"), message(damaged));
  }

  private static String message(KeptShards<ToyWork.Kept> file) {
    return String.valueOf(assertThrows(IOException.class, file::read).getMessage());
  }

  @Test
  void aUnitCannotCountTwice() {
    UnitSet some = UnitSet.NONE.with(10, 20).with(30, 40).with(20, 30);
    assertEquals(List.of(new UnitSet.Range(10, 40)), some.ranges());
    assertThrows(IllegalArgumentException.class, () -> some.with(39, 41));
    assertEquals(new UnitSet.Range(0, 7), some.gap(0, 100, 7).orElseThrow());
    assertEquals(new UnitSet.Range(7, 10), some.gap(7, 100, 7).orElseThrow());
    assertEquals(new UnitSet.Range(40, 100), some.gap(15, 100, 900).orElseThrow());
    assertTrue(some.gap(15, 40, 7).isEmpty());
  }

  @Test
  void theSpeedOfEveryWorkerIsSeen() {
    Rates rates = new Rates(100);
    rates.finished(1, 30, 3_000_000_000L);
    rates.finished(0, 20, 1_000_000_000L);
    assertEquals(List.of(20.0, 10.0), rates.perSecond());
    assertTrue(rates.leftSeconds() > 0);
  }
}
