package org.stopwell.core.depth;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.stopwell.core.depth.LengthRecord.Radiograph;

/**
 * LengthReadings of one canal from one reference point. The recorded length is the median of the
 * largest group that lies within the range; fewer than three that agree make no length.
 */
public final class LengthReadings {
  /** Default range within which length readings agree, µm; assumed. */
  public static final int DEFAULT_RANGE_MICRONS = 100;

  private static final int LEAST_AGREEING = 3;
  private static final double COVERAGE = 2;

  private final int rangeMicrons;
  private final String reference;
  private final int referenceErrorMicrons;
  private final List<LengthReading> taken = new ArrayList<>();

  /**
   * No length readings yet.
   *
   * @param rangeMicrons range within which length readings agree, µm, at least 0
   * @param reference the reference point, in words
   * @param referenceErrorMicrons how far off a reading of it may be either way, µm, at least 0
   */
  public LengthReadings(int rangeMicrons, String reference, int referenceErrorMicrons) {
    if (!(rangeMicrons >= 0 && referenceErrorMicrons >= 0)) {
      throw new IllegalArgumentException(
          "range "
              + rangeMicrons
              + " um or reference error "
              + referenceErrorMicrons
              + " um is below 0");
    }
    this.rangeMicrons = rangeMicrons;
    this.reference = reference;
    this.referenceErrorMicrons = referenceErrorMicrons;
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
    List<LengthReading> sorted =
        taken.stream().sorted(Comparator.comparingInt(LengthReading::lengthMicrons)).toList();
    List<LengthReading> best = List.of();
    for (int from = 0; from < sorted.size(); from++) {
      int to = from;
      while (to < sorted.size() && length(sorted, to) - length(sorted, from) <= rangeMicrons) {
        to++;
      }
      if (to - from > best.size()) {
        best = sorted.subList(from, to);
      }
    }
    return best.size() < LEAST_AGREEING ? Optional.empty() : Optional.of(recordOf(best));
  }

  private LengthRecord recordOf(List<LengthReading> agreeing) {
    int n = agreeing.size();
    int median = (length(agreeing, (n - 1) / 2) + length(agreeing, n / 2)) / 2;
    return new LengthRecord(
        median,
        agreeing.get(0).standoffMicrons(),
        n,
        taken.size(),
        length(agreeing, n - 1) - length(agreeing, 0),
        reference,
        referenceErrorMicrons,
        uncertainty(agreeing),
        agreeing.stream().mapToInt(LengthReading::fileSize).max().orElseThrow(),
        Radiograph.NOT_TAKEN);
  }

  /**
   * u² = s²/n + a²/3: the spread of the length readings, and a reading of the reference point that
   * may be anywhere within ±a (JCGM 100, 4.2.3 and 4.3.7). The error of the stop itself, which all
   * length readings share, is for the bench to state.
   */
  private int uncertainty(List<LengthReading> agreeing) {
    int n = agreeing.size();
    double mean = agreeing.stream().mapToInt(LengthReading::lengthMicrons).average().orElseThrow();
    double squares = 0;
    for (LengthReading s : agreeing) {
      squares += (s.lengthMicrons() - mean) * (s.lengthMicrons() - mean);
    }
    double reading = (double) referenceErrorMicrons * referenceErrorMicrons / 3;
    return (int) Math.ceil(COVERAGE * Math.sqrt(squares / (n - 1) / n + reading));
  }

  private static int length(List<LengthReading> readings, int i) {
    return readings.get(i).lengthMicrons();
  }
}
