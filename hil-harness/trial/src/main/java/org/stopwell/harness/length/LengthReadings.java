package org.stopwell.harness.length;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.stopwell.harness.stats.ExpandedUncertainty;
import org.stopwell.harness.stats.ExpandedUncertainty.Part;
import org.stopwell.harness.stats.Moments;

/**
 * Length readings of one canal. The recorded length is their mean. At least three must agree within
 * the range; otherwise there is no length. A reading far from all others is left out and counted.
 */
public final class LengthReadings {
  /** A length needs so many readings that agree. */
  public static final int LEAST_AGREEING = 3;

  /** A reading is left out when it is so many ranges from the median; assumed. */
  static final int LEFT_OUT_RANGES = 5;

  /**
   * Critical range of three readings over their standard deviation, 95 % (ISO 5725-6:1994, table 1,
   * from memory). Readings that agree within a range do not show a smaller deviation than the range
   * over this: without this floor three that agree by chance would cover 80 % only.
   */
  static final double CRITICAL_RANGE = 3.3;

  private final LengthMethod method;
  private final List<LengthReading> taken = new ArrayList<>();

  /**
   * No length readings yet.
   *
   * @param method how they are measured
   */
  public LengthReadings(LengthMethod method) {
    this.method = method;
  }

  /**
   * Adds a length reading.
   *
   * @param reading a length reading at the same standoff as the earlier ones
   */
  public void add(LengthReading reading) {
    if (!taken.isEmpty() && taken.get(0).standoffMicrons() != reading.standoffMicrons()) {
      throw new IllegalArgumentException(
          "standoff "
              + reading.standoffMicrons()
              + " um differs from that of the earlier readings, "
              + taken.get(0).standoffMicrons()
              + " um");
    }
    taken.add(reading);
  }

  /**
   * All length readings.
   *
   * @return in the order in which they were taken
   */
  public List<LengthReading> taken() {
    return List.copyOf(taken);
  }

  /**
   * The recorded length.
   *
   * @return empty until at least three length readings agree
   */
  public Optional<LengthRecord> record() {
    int[] all = taken.stream().mapToInt(LengthReading::lengthMicrons).sorted().toArray();
    int agreeing = agreeing(all);
    if (agreeing < LEAST_AGREEING) {
      return Optional.empty();
    }
    int median = (all[(all.length - 1) / 2] + all[all.length / 2]) / 2;
    long most = (long) LEFT_OUT_RANGES * method.rangeMicrons();
    List<LengthReading> used =
        taken.stream().filter(r -> Math.abs((long) r.lengthMicrons() - median) <= most).toList();
    // three agree, but in no place near the median
    return used.size() < LEAST_AGREEING
        ? Optional.empty()
        : Optional.of(recordOf(used, Math.min(agreeing, used.size())));
  }

  /** The largest number of readings within the range. */
  private int agreeing(int[] sorted) {
    int most = 0;
    for (int from = 0, to = 0; to < sorted.length; to++) {
      while (sorted[to] - sorted[from] > method.rangeMicrons()) {
        from++;
      }
      most = Math.max(most, to - from + 1);
    }
    return most;
  }

  private LengthRecord recordOf(List<LengthReading> used, int agreeing) {
    Moments lengths = Moments.of(used.stream().mapToLong(LengthReading::lengthMicrons));
    var range = used.stream().mapToInt(LengthReading::lengthMicrons).summaryStatistics();
    return new LengthRecord(
        method,
        (int) Math.round(lengths.mean().orElseThrow()),
        used.get(0).standoffMicrons(),
        agreeing,
        used.size(),
        taken.size(),
        range.getMax() - range.getMin(),
        used.stream().mapToInt(LengthReading::boundMicrons).max().orElseThrow(),
        uncertainty(lengths),
        used.stream().mapToInt(LengthReading::fileSize).max().orElseThrow(),
        Radiograph.NOT_TAKEN,
        OptionalInt.empty());
  }

  /**
   * The spread of the readings, the reading of the reference point, and the reading of the depth.
   * The spread is that of all readings used, not of those that agree best: choosing would narrow
   * it.
   */
  private ExpandedUncertainty uncertainty(Moments lengths) {
    double deviation =
        Math.max(lengths.standardDeviation().orElseThrow(), method.rangeMicrons() / CRITICAL_RANGE);
    return ExpandedUncertainty.of(
        List.of(
            Part.ofMean(deviation, (int) lengths.count()),
            Part.within(method.reference().errorMicrons()),
            Part.within(method.depthErrorMicrons())));
  }
}
