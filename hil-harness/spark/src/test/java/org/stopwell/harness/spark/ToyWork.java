package org.stopwell.harness.spark;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import org.stopwell.harness.explore.RowColumn;
import org.stopwell.harness.explore.RowSink;
import org.stopwell.harness.explore.ShardSummary;
import org.stopwell.harness.explore.ShardWork;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.time.MachineClock;

/**
 * Work in place of physics: a few sums for each trial, and a wait where a test needs time.
 *
 * @param units how many units
 * @param waitNs wait in each unit, ns
 * @param broken a unit that throws; none where negative
 */
record ToyWork(long units, long waitNs, long broken) implements ShardWork<ToyWork.Kept> {
  private static final int UNIT_TRIALS = 2;
  private static final int CLASSES = 64;

  /** Counts by class, and a sum that depends on every trial. */
  static final class Kept implements ShardSummary<Kept> {
    private final long[] counts;
    private final long sum;

    Kept(long[] counts, long sum) {
      this.counts = counts;
      this.sum = sum;
    }

    @Override
    public Kept merge(Kept other) {
      long[] both = counts.clone();
      for (int i = 0; i < CLASSES; i++) {
        both[i] += other.counts[i];
      }
      return new Kept(both, sum + other.sum);
    }

    @Override
    public byte[] toBytes() {
      ByteArrayOutputStream bytes = new ByteArrayOutputStream();
      try (DataOutputStream out = new DataOutputStream(bytes)) {
        out.writeLong(sum);
        for (long count : counts) {
          out.writeLong(count);
        }
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
      return bytes.toByteArray();
    }

    long trials() {
      long all = 0;
      for (long count : counts) {
        all += count;
      }
      return all;
    }
  }

  static ToyWork of(long units) {
    return new ToyWork(units, 0, -1);
  }

  @Override
  public String fingerprint() {
    return toString();
  }

  @Override
  public int unitTrials() {
    return UNIT_TRIALS;
  }

  @Override
  public List<RowColumn> columns() {
    return List.of(
        RowColumn.whole("value"),
        new RowColumn("half", RowColumn.Kind.NUMBER, ToyWork::half),
        new RowColumn("parity", RowColumn.Kind.WORD, ToyWork::parity));
  }

  static String half(long trial) {
    return trial / 2 + (trial % 2 == 0 ? ".0" : ".5");
  }

  static String parity(long trial) {
    return trial % 2 == 0 ? "even" : "odd";
  }

  @Override
  public Kept empty() {
    return new Kept(new long[CLASSES], 0);
  }

  @Override
  public Kept read(byte[] bytes) throws IOException {
    DataInputStream in = new DataInputStream(new ByteArrayInputStream(bytes));
    long sum = in.readLong();
    long[] counts = new long[CLASSES];
    for (int i = 0; i < CLASSES; i++) {
      counts[i] = in.readLong();
    }
    return new Kept(counts, sum);
  }

  @Override
  public Kept shard(long from, long to, RowSink rows) {
    long[] counts = new long[CLASSES];
    long sum = 0;
    for (long trial = from * UNIT_TRIALS; trial < to * UNIT_TRIALS; trial++) {
      if (trial / UNIT_TRIALS == broken) {
        throw new IllegalStateException("a trial that cannot be");
      }
      long value = RandomStream.trialSeed(7, trial);
      counts[(int) (value & (CLASSES - 1))]++;
      sum += value * (trial + 1);
      rows.put(trial, new long[] {value, trial, trial});
    }
    if (waitNs > 0) {
      MachineClock.waitNs(waitNs * (to - from));
    }
    return new Kept(counts, sum);
  }
}
