package org.stopwell.harness.stats;

import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * A crossed gauge study by averages and ranges, as done by hand (AIAG, Measurement Systems
 * Analysis, 4th edition, chapter III section B). It cannot see an interaction of parts and
 * appraisers; {@link GaugeStudy} can.
 *
 * @param equipment equipment variation EV: repeats
 * @param appraiser appraiser variation AV
 * @param part part variation PV
 */
public record AverageRange(double equipment, double appraiser, double part) {
  /** K₂ and K₃: 1/d₂* for one range of so many numbers; a test works them out anew. */
  private static final Map<Integer, Double> ONE_RANGE =
      Map.of(
          2, 0.7071, 3, 0.5231, 4, 0.4467, 5, 0.4030, 6, 0.3742, 7, 0.3534, 8, 0.3375, 9, 0.3249,
          10, 0.3146);

  /** K₁: 1/d₂ for the mean of many ranges of two or three repeats; worked out anew as well. */
  private static final Map<Integer, Double> MANY_RANGES = Map.of(2, 0.8862, 3, 0.5908);

  /**
   * The study of a full table.
   *
   * @param table numbers by part, then by appraiser, then by repeat
   * @return the study; empty unless it has 2 to 10 parts, 2 or 3 appraisers, 2 or 3 repeats and no
   *     holes: for other sizes the manual has no constants
   */
  public static Optional<AverageRange> of(List<List<List<Double>>> table) {
    int parts = table.size();
    int appraisers = parts == 0 ? 0 : table.get(0).size();
    int repeats = appraisers == 0 ? 0 : table.get(0).get(0).size();
    Double k1 = MANY_RANGES.get(repeats);
    Double k2 = appraisers <= 3 ? ONE_RANGE.get(appraisers) : null;
    Double k3 = ONE_RANGE.get(parts);
    boolean full =
        table.stream()
            .allMatch(
                row ->
                    row.size() == appraisers
                        && row.stream().allMatch(cell -> cell.size() == repeats));
    if (k1 == null || k2 == null || k3 == null || !full) {
      return Optional.empty();
    }
    double ranges =
        table.stream().flatMap(List::stream).mapToDouble(AverageRange::range).average().orElse(0);
    double[] byAppraiser = new double[appraisers];
    double[] byPart = new double[parts];
    for (int p = 0; p < parts; p++) {
      for (int a = 0; a < appraisers; a++) {
        double mean =
            table.get(p).get(a).stream().mapToDouble(Double::doubleValue).average().orElse(0);
        byAppraiser[a] += mean / parts;
        byPart[p] += mean / appraisers;
      }
    }
    double ev = ranges * k1;
    double spread = range(byAppraiser) * k2;
    double av = Math.sqrt(Math.max(0, spread * spread - ev * ev / (parts * repeats)));
    return Optional.of(new AverageRange(ev, av, range(byPart) * k3));
  }

  /**
   * Repeatability and reproducibility together.
   *
   * @return GRR, in the unit of the numbers
   */
  public double gauge() {
    return Math.hypot(equipment, appraiser);
  }

  /**
   * Everything.
   *
   * @return TV, in the unit of the numbers
   */
  public double total() {
    return Math.hypot(gauge(), part);
  }

  /**
   * How many groups of parts the gauge can tell apart, before it is cut to a whole number.
   *
   * @return 1.41 PV / GRR
   */
  public double distinctCategories() {
    return 1.41 * part / gauge();
  }

  private static double range(List<Double> numbers) {
    return range(numbers.stream().mapToDouble(Double::doubleValue).toArray());
  }

  private static double range(double[] numbers) {
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (double x : numbers) {
      low = Math.min(low, x);
      high = Math.max(high, x);
    }
    return high - low;
  }
}
