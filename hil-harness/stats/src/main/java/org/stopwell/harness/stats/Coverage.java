package org.stopwell.harness.stats;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleSupplier;

/** How often the bounds that decide claims are false, by simulated campaigns. */
public final class Coverage {
  private Coverage() {}

  /**
   * False bounds of a share.
   *
   * @param atLeast lower bounds that lie above the true share, out of all
   * @param atMost upper bounds that lie below it, out of all
   */
  public record FalseBounds(Proportion atLeast, Proportion atMost) {}

  /**
   * Simulates the bounds of a share over canals.
   *
   * @param canals number of canals
   * @param counts what happens in each
   * @param confidence one-sided confidence
   * @param campaigns how many are simulated
   * @param uniform random numbers from 0 to 1
   * @return how many bounds are false
   */
  public static FalseBounds share(
      int canals, CanalCounts counts, double confidence, int campaigns, DoubleSupplier uniform) {
    double truth = counts.mean();
    int low = 0;
    int high = 0;
    double[] numbers = new double[canals];
    for (int c = 0; c < campaigns; c++) {
      Arrays.setAll(numbers, i -> counts.draw(uniform.getAsDouble()));
      // A bound that meets the true share exactly is not false; rounding is no matter.
      low += BoundedMean.isAtLeast(numbers, confidence, truth + 1e-12) ? 1 : 0;
      high +=
          BoundedMean.isAtLeast(BoundedMean.others(numbers), confidence, 1 - truth + 1e-12) ? 1 : 0;
    }
    return new FalseBounds(new Proportion(low, campaigns), new Proportion(high, campaigns));
  }

  /**
   * Simulates the interval of a mean over canals with unequal numbers of trials, normal errors.
   *
   * @param trials trials in each canal
   * @param correlation intraclass correlation of the trials in one canal, 0 to 1
   * @param confidence two-sided confidence
   * @param campaigns how many are simulated
   * @param normal random numbers with mean 0 and standard deviation 1
   * @return intervals that miss the true mean, out of all
   */
  public static Proportion mean(
      int[] trials, double correlation, double confidence, int campaigns, DoubleSupplier normal) {
    int misses = 0;
    for (int c = 0; c < campaigns; c++) {
      List<Moments> canals = new ArrayList<>();
      for (int n : trials) {
        double mean = SampleSize.deviationOfCanal(1, n, correlation) * normal.getAsDouble();
        canals.add(Moments.of(Math.round(1e6 * mean), n));
      }
      Optional<Interval> interval = ClusteredMean.interval(canals, confidence);
      misses += interval.filter(i -> i.low() <= 0 && i.high() >= 0).isPresent() ? 0 : 1;
    }
    return new Proportion(misses, campaigns);
  }
}
