package org.stopwell.harness.explore;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;

/** What is kept of the trials of a space; every answer is computed from it. */
public final class ExploreSummary implements ShardSummary<ExploreSummary> {
  /** What the summary counts. */
  enum Count {
    /** Trials. */
    TRIALS,
    /** Trials whose values contradict each other; they were not run. */
    IMPOSSIBLE,
    /** Trials that have the outcome. */
    WITH_OUTCOME,
    /** Trials that stopped. */
    STOPPED,
    /** Trials past the foramen. */
    OVER_TRAVEL,
    /** Trials that stopped early. */
    EARLY,
    /** Trials that refused. */
    REFUSED,
    /** Units of a sensitivity study in which a trial lacks the outcome. */
    INCOMPLETE
  }

  /** What is kept of each point of the settings. */
  enum PlaceSum {
    /** Trials that were possible. */
    TRIALS,
    /** Trials past the foramen. */
    OVER_TRAVEL,
    /** Trials that stopped early. */
    EARLY,
    /** Trials that refused. */
    REFUSED,
    /** Bench time of all, ms. */
    MILLIS
  }

  /** Worst trials that are kept. */
  static final int WORST = 10;

  /** The shape of a summary: it follows from the space and is not kept. */
  record Shape(Histogram.Bins bins, int sensitivity, int surface, int places) {}

  final Shape shape;
  final WideSums counts = new WideSums(Count.values().length);

  /** Sum and sum of squares of the outcome. */
  final WideSums moments = new WideSums(2);

  final Histogram histogram;
  final WorstCases worst = new WorstCases(WORST);
  final WideSums sensitivity;
  final WideSums surface;
  final WideSums places;

  ExploreSummary(Shape shape) {
    this.shape = shape;
    this.histogram = new Histogram(shape.bins());
    this.sensitivity = new WideSums(shape.sensitivity());
    this.surface = new WideSums(shape.surface());
    this.places = new WideSums(shape.places() * PlaceSum.values().length);
  }

  void count(Count what) {
    counts.add(what.ordinal(), 1);
  }

  long count(int place, PlaceSum what) {
    return places.exact(place * PlaceSum.values().length + what.ordinal()).longValueExact();
  }

  long counted(Count what) {
    return counts.exact(what.ordinal()).longValueExact();
  }

  @Override
  public ExploreSummary merge(ExploreSummary other) {
    ExploreSummary both = new ExploreSummary(shape);
    both.add(this);
    both.add(other);
    return both;
  }

  private void add(ExploreSummary other) {
    counts.addAll(other.counts);
    moments.addAll(other.moments);
    histogram.addAll(other.histogram);
    worst.addAll(other.worst);
    sensitivity.addAll(other.sensitivity);
    surface.addAll(other.surface);
    places.addAll(other.places);
  }

  @Override
  public byte[] toBytes() {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (DataOutputStream out = new DataOutputStream(bytes)) {
      counts.write(out);
      moments.write(out);
      histogram.write(out);
      worst.write(out);
      sensitivity.write(out);
      surface.write(out);
      places.write(out);
    } catch (IOException e) {
      throw new UncheckedIOException("memory does not fail", e);
    }
    return bytes.toByteArray();
  }

  static ExploreSummary read(byte[] bytes, Shape shape) throws IOException {
    DataInputStream in = new DataInputStream(new ByteArrayInputStream(bytes));
    ExploreSummary read = new ExploreSummary(shape);
    read.counts.addAll(WideSums.read(in, read.counts.count()));
    read.moments.addAll(WideSums.read(in, read.moments.count()));
    read.histogram.addAll(Histogram.read(in, shape.bins()));
    read.worst.addAll(WorstCases.read(in, WORST));
    read.sensitivity.addAll(WideSums.read(in, read.sensitivity.count()));
    read.surface.addAll(WideSums.read(in, read.surface.count()));
    read.places.addAll(WideSums.read(in, read.places.count()));
    return read;
  }
}
