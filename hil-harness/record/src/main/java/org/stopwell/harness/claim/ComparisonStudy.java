package org.stopwell.harness.claim;

import java.util.ArrayList;
import java.util.List;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Moments;
import org.stopwell.rig.random.RandomStream;

/**
 * How often a comparison passes a build that moved the mean stop by the whole margin, found by
 * simulation.
 */
public final class ComparisonStudy {
  /** Permitted shift of the simulated comparison, µm. */
  private static final int MARGIN_MICRONS = 50;

  /** Standard deviation of one simulated difference, µm: the margin is easy to show; assumed. */
  private static final double DEVIATION_MICRONS = 60;

  private ComparisonStudy() {}

  /**
   * The share of simulated comparisons that pass wrongly.
   *
   * @param canals how many canals
   * @param each trials in each canal
   * @param correlation intraclass correlation of the differences in one canal, 0 to 1
   * @param paired whether the trials are pairs; else each run has canals of its own
   * @param comparisons how many to simulate
   * @param seed seed of the simulation
   * @return 0 to 1; at most 0.05 but for the error of the simulation
   */
  public static double falsePass(
      int canals, int each, double correlation, boolean paired, int comparisons, long seed) {
    RandomStream random = RandomStream.of(seed, "comparisons");
    Interval margin = new Interval(-MARGIN_MICRONS, MARGIN_MICRONS);
    int passed = 0;
    for (int i = 0; i < comparisons; i++) {
      CanalMeans moved = means(canals, each, correlation, MARGIN_MICRONS, random);
      boolean passes =
          (paired
                  ? moved.interval(1 - 2 * ComparedCondition.ALPHA)
                  : moved.less(
                      means(canals, each, correlation, 0, random), ComparedCondition.ALPHA))
              .filter(margin::contains)
              .isPresent();
      passed += passes ? 1 : 0;
    }
    return (double) passed / comparisons;
  }

  private static CanalMeans means(
      int canals, int each, double correlation, double mean, RandomStream random) {
    List<Moments> all = new ArrayList<>();
    double between = DEVIATION_MICRONS * Math.sqrt(correlation);
    double within = DEVIATION_MICRONS * Math.sqrt(1 - correlation);
    for (int c = 0; c < canals; c++) {
      double canal = mean + between * random.nextGaussian();
      Moments sum = Moments.NONE;
      for (int k = 0; k < each; k++) {
        sum = sum.plus(Moments.of(Math.round(canal + within * random.nextGaussian()), 1));
      }
      all.add(sum);
    }
    return CanalMeans.of(all);
  }
}
