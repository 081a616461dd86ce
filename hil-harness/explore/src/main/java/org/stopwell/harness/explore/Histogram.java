package org.stopwell.harness.explore;

import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.util.Arrays;

/** Counts of whole numbers in bins of one width, the first and the last open outwards. */
final class Histogram {
  /**
   * Where the bins are.
   *
   * @param low lower edge of the first bin
   * @param width width of a bin, at least 1
   * @param bins how many
   */
  record Bins(long low, long width, int bins) {}

  private final Bins place;
  private final long[] counts;

  Histogram(Bins place) {
    this.place = place;
    this.counts = new long[place.bins()];
  }

  void add(long value) {
    long bin = Math.floorDiv(value - place.low(), place.width());
    counts[(int) Math.max(0, Math.min(counts.length - 1, bin))]++;
  }

  void addAll(Histogram other) {
    for (int i = 0; i < counts.length; i++) {
      counts[i] += other.counts[i];
    }
  }

  Bins place() {
    return place;
  }

  long[] counts() {
    return counts.clone();
  }

  long total() {
    return Arrays.stream(counts).sum();
  }

  void write(DataOutputStream out) throws IOException {
    out.writeInt(counts.length);
    for (long count : counts) {
      out.writeLong(count);
    }
  }

  static Histogram read(DataInputStream in, Bins place) throws IOException {
    if (in.readInt() != place.bins()) {
      throw new IOException("another number of bins");
    }
    Histogram histogram = new Histogram(place);
    for (int i = 0; i < place.bins(); i++) {
      histogram.counts[i] = in.readLong();
    }
    return histogram;
  }
}
