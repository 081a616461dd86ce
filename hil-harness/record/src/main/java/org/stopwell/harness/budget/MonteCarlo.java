package org.stopwell.harness.budget;

import java.util.Arrays;
import java.util.function.ToDoubleFunction;
import org.stopwell.harness.stats.Interval;
import org.stopwell.rig.random.RandomStream;

/**
 * The distribution of a measurand from many draws of its inputs (JCGM 101:2008, clause 7). Seeded:
 * the same seed gives the same numbers.
 *
 * @param seed seed of the draws
 * @param trials how many draws
 * @param mean their mean (7.6)
 * @param deviation their standard deviation: the standard uncertainty (7.6)
 * @param interval the interval with as many draws below as above it (7.7)
 */
public record MonteCarlo(long seed, int trials, double mean, double deviation, Interval interval) {
  /**
   * Draws of a campaign's budget, in less than a second. Clause 7.2.1 asks for some 10⁶; with these
   * the ends of a 95 % interval are known to about half a percent of u.
   */
  public static final int TRIALS = 200_000;

  /**
   * Draws.
   *
   * @param seed seed of the draws
   * @param trials how many, at least 1000
   * @param probability coverage probability of the interval, 0 to 1 exclusive
   * @param model draws every input once and gives the measurand
   * @return the result
   */
  public static MonteCarlo of(
      long seed, int trials, double probability, ToDoubleFunction<RandomStream> model) {
    if (!(trials >= 1_000 && probability > 0 && probability < 1)) {
      throw new IllegalArgumentException(
          trials + " draws, probability " + probability + ": must be 1000 or more, 0 to 1");
    }
    RandomStream stream = RandomStream.of(seed, "uncertainty");
    double[] values = new double[trials];
    Arrays.setAll(values, i -> model.applyAsDouble(stream));
    double mean = Arrays.stream(values).average().orElseThrow();
    double squares = Arrays.stream(values).map(v -> (v - mean) * (v - mean)).sum();
    Arrays.sort(values);
    // 7.7.2: q draws inside, (M − q)/2 below.
    int inside = (int) Math.min(trials - 1L, Math.round(probability * trials));
    int below = (trials - inside) / 2;
    return new MonteCarlo(
        seed,
        trials,
        mean,
        Math.sqrt(squares / (trials - 1)),
        new Interval(values[below], values[below + inside - 1]));
  }

  /**
   * Half of the width of the interval, to set beside an expanded uncertainty.
   *
   * @return in the unit of the measurand
   */
  public double halfWidth() {
    return (interval.high() - interval.low()) / 2;
  }
}
