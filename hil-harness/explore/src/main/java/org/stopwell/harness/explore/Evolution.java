package org.stopwell.harness.explore;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.ToDoubleFunction;
import org.apache.commons.math3.optim.InitialGuess;
import org.apache.commons.math3.optim.MaxEval;
import org.apache.commons.math3.optim.SimpleBounds;
import org.apache.commons.math3.optim.nonlinear.scalar.GoalType;
import org.apache.commons.math3.optim.nonlinear.scalar.ObjectiveFunction;
import org.apache.commons.math3.optim.nonlinear.scalar.noderiv.CMAESOptimizer;
import org.apache.commons.math3.random.AbstractRandomGenerator;
import org.apache.commons.math3.random.SobolSequenceGenerator;
import org.stopwell.rig.random.RandomStream;

/**
 * Search for the least value of a function on the unit cube: evenly spread points, and evolution
 * with an adapted covariance matrix (CMA-ES; Hansen and Ostermeier, Evol Comput 2001;9:159). Only
 * the order of the values counts, so that the function can have steps. All random numbers come from
 * a seed.
 */
public final class Evolution {
  /** Greatest number of dimensions of the spread points, that of the library's table. */
  private static final int MOST_SPREAD = 1_000;

  private Evolution() {}

  /**
   * Points of Sobol's sequence, moved around by a random shift.
   *
   * @param dimensions of the cube
   * @param count how many points
   * @param seed seed of the shift
   * @return the points
   */
  public static List<double[]> spread(int dimensions, int count, long seed) {
    if (!(dimensions >= 1 && dimensions <= MOST_SPREAD)) {
      throw new IllegalArgumentException(dimensions + " dimensions, 1 to " + MOST_SPREAD);
    }
    SobolSequenceGenerator sobol = new SobolSequenceGenerator(dimensions);
    RandomStream random = RandomStream.of(seed, "spread");
    double[] shift = new double[dimensions];
    Arrays.setAll(shift, i -> random.nextDouble());
    List<double[]> points = new ArrayList<>();
    for (int n = 0; n < count; n++) {
      double[] point = sobol.nextVector();
      for (int i = 0; i < dimensions; i++) {
        point[i] = (point[i] + shift[i]) % 1;
      }
      points.add(point);
    }
    return points;
  }

  /**
   * Searches until the population has converged. What the function throws ends the search.
   *
   * @param function the function; never NaN
   * @param start where the search begins
   * @param sigma first step, as a share of the cube
   * @param population points of a generation, at least 4
   * @param seed seed of the steps
   * @param most evaluations at most
   */
  public static void search(
      ToDoubleFunction<double[]> function,
      double[] start,
      double sigma,
      int population,
      long seed,
      int most) {
    double[] low = new double[start.length];
    double[] high = new double[start.length];
    double[] sigmas = new double[start.length];
    Arrays.fill(high, 1);
    Arrays.fill(sigmas, sigma);
    CMAESOptimizer optimizer =
        new CMAESOptimizer(
            Math.max(1, most / population),
            0,
            true,
            0,
            0,
            new Steps(seed),
            false,
            (iteration, previous, current) -> false);
    optimizer.optimize(
        new ObjectiveFunction(function::applyAsDouble),
        GoalType.MINIMIZE,
        new InitialGuess(start),
        new SimpleBounds(low, high),
        new CMAESOptimizer.Sigma(sigmas),
        new CMAESOptimizer.PopulationSize(population),
        new MaxEval(most + 2 * population));
  }

  /** The random numbers of the house for the library. */
  private static final class Steps extends AbstractRandomGenerator {
    private RandomStream stream;

    Steps(long seed) {
      stream = RandomStream.of(seed, "evolution");
    }

    @Override
    public void setSeed(long seed) {
      clear();
      stream = RandomStream.of(seed, "evolution");
    }

    @Override
    public double nextDouble() {
      return stream.nextDouble();
    }
  }
}
