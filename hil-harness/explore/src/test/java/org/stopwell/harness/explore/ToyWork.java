package org.stopwell.harness.explore;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import org.stopwell.rig.random.RandomStream;

/** Work without physics: every part that a summary can have, and numbers that need 128 bits. */
record ToyWork(long units, int unitTrials) implements ShardWork<ToyWork.Kept> {
  private static final Histogram.Bins BINS = new Histogram.Bins(-1000, 50, 40);
  private static final int WORST = 5;

  record Kept(WideSums sums, Histogram histogram, WorstCases worst) implements ShardSummary<Kept> {
    @Override
    public Kept merge(Kept other) {
      Kept both = nothing();
      for (Kept one : new Kept[] {this, other}) {
        both.sums.addAll(one.sums);
        both.histogram.addAll(one.histogram);
        both.worst.addAll(one.worst);
      }
      return both;
    }

    @Override
    public byte[] toBytes() {
      ByteArrayOutputStream bytes = new ByteArrayOutputStream();
      try (DataOutputStream out = new DataOutputStream(bytes)) {
        sums.write(out);
        histogram.write(out);
        worst.write(out);
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
      return bytes.toByteArray();
    }

    static Kept nothing() {
      return new Kept(new WideSums(3), new Histogram(BINS), new WorstCases(WORST));
    }
  }

  /** A number of a trial: of any sign, a few of them equal. */
  static long value(long trial) {
    return RandomStream.trialSeed(7, trial) >> 52;
  }

  @Override
  public String fingerprint() {
    return "toy " + units + " " + unitTrials;
  }

  @Override
  public Kept empty() {
    return Kept.nothing();
  }

  @Override
  public Kept read(byte[] bytes) throws IOException {
    DataInputStream in = new DataInputStream(new ByteArrayInputStream(bytes));
    return new Kept(WideSums.read(in, 3), Histogram.read(in, BINS), WorstCases.read(in, WORST));
  }

  @Override
  public Kept shard(long from, long to, RowSink rows) {
    Kept kept = empty();
    for (long trial = from * unitTrials; trial < to * unitTrials; trial++) {
      long value = value(trial);
      kept.sums.add(0, value);
      kept.sums.add(1, value * value);
      kept.sums.add(2, (value << 50) ^ trial); // overflows 64 bits after some trials
      kept.histogram.add(value);
      kept.worst.add(trial, Math.abs(value) / 64); // many are equally bad
      rows.put(trial, new long[] {value});
    }
    return kept;
  }
}
