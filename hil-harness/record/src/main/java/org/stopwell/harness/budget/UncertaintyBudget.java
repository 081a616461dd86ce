package org.stopwell.harness.budget;

import java.util.List;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.commons.statistics.distribution.TDistribution;
import org.stopwell.harness.stats.Interval;

/**
 * An uncertainty budget for a measurand that is a sum of its inputs, by the law of propagation of
 * uncertainty (JCGM 100:2008, GUM). The inputs are independent.
 *
 * @param unit unit of the measurand
 * @param inputs the lines
 */
public record UncertaintyBudget(String unit, List<Input> inputs) {
  /** The coverage probability of U95. */
  public static final double COVERAGE = 0.95;

  /** Copies the lines. */
  public UncertaintyBudget {
    inputs = List.copyOf(inputs);
  }

  /**
   * Combined standard uncertainty: u² = Σ (c u)² (JCGM 100:2008, 5.1.2).
   *
   * @return in the unit of the measurand
   */
  public double combined() {
    return Math.sqrt(inputs.stream().mapToDouble(i -> i.contribution() * i.contribution()).sum());
  }

  /**
   * Effective degrees of freedom: u⁴ / Σ (c u)⁴/ν, Welch and Satterthwaite (JCGM 100:2008, G.4.1).
   *
   * @return not cut to a whole number; infinite when every line is well known
   */
  public double effectiveFreedom() {
    double sum =
        inputs.stream().mapToDouble(i -> Math.pow(i.contribution(), 4) / i.freedom()).sum();
    return sum == 0 ? Double.POSITIVE_INFINITY : Math.pow(combined(), 4) / sum;
  }

  /**
   * Coverage factor: Student's t with the effective degrees of freedom cut to a whole number (JCGM
   * 100:2008, G.4.1 and G.6.4).
   *
   * @param probability coverage probability, 0 to 1 exclusive
   * @return k
   */
  public double coverageFactor(double probability) {
    double tail = (1 - probability) / 2;
    double freedom = Math.max(1, Math.floor(effectiveFreedom()));
    return Double.isInfinite(freedom)
        ? NormalDistribution.of(0, 1).inverseSurvivalProbability(tail)
        : TDistribution.of(freedom).inverseSurvivalProbability(tail);
  }

  /**
   * Expanded uncertainty U = k u.
   *
   * @param probability coverage probability, 0 to 1 exclusive
   * @return in the unit of the measurand
   */
  public double expanded(double probability) {
    return coverageFactor(probability) * combined();
  }

  /**
   * The same by drawing every line at random (JCGM 101:2008).
   *
   * @param seed seed of the draws
   * @param trials how many
   * @param probability coverage probability, 0 to 1 exclusive
   * @return the distribution of the measurand
   */
  public MonteCarlo monteCarlo(long seed, int trials, double probability) {
    return MonteCarlo.of(
        seed,
        trials,
        probability,
        stream -> {
          double sum = 0;
          for (Input input : inputs) {
            sum += input.sensitivity() * input.draw(stream);
          }
          return sum;
        });
  }

  /**
   * U95 to be stated: the larger of the two methods, rounded up.
   *
   * @param drawn the distribution by drawing, with coverage {@link #COVERAGE}
   * @return whole units of the measurand
   */
  public int stated(MonteCarlo drawn) {
    return (int) Math.ceil(Math.max(expanded(COVERAGE), drawn.halfWidth()));
  }

  /**
   * Whether the two methods agree (JCGM 101:2008, 8.1): both ends of the coverage interval differ
   * by no more than half a unit of the last of two digits of u.
   *
   * @param monteCarlo the distribution by drawing
   * @param probability its coverage probability
   * @return true when the simpler method may be used
   */
  public boolean agreesWith(MonteCarlo monteCarlo, double probability) {
    double expanded = expanded(probability);
    Interval drawn = monteCarlo.interval();
    double allowed = tolerance(combined());
    return Math.abs(-expanded - drawn.low()) <= allowed
        && Math.abs(expanded - drawn.high()) <= allowed;
  }

  /** δ of JCGM 101:2008, 7.9.2, for u with two digits. */
  static double tolerance(double u) {
    return u > 0 ? 0.5 * Math.pow(10, Math.floor(Math.log10(u)) - 1) : 0;
  }
}
