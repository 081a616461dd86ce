package org.stopwell.harness.explore;

import java.util.List;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.stopwell.harness.plan.Factor;
import org.stopwell.harness.plan.Space;
import org.stopwell.rig.random.RandomStream;

/**
 * One trial after the other: Latin hypercube, independent random points, grid, list. With repeats,
 * the design places the settings alone, and every place meets the same draws of the other factors
 * and of the rest.
 */
final class PlacedDesign implements SpaceDesign {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

  /**
   * Most places that are compared with each other; assumed: a summary of some hundred kilobytes.
   */
  private static final int MOST_PLACES = 10_000;

  private final Space space;
  private final List<Factor> factors;
  private final long seed;
  private final int repeats;
  private final long places;
  private final double[][] correlated;

  PlacedDesign(Space space) throws SpaceException {
    this.space = space;
    this.factors = space.factors();
    this.seed = space.head().seed();
    this.repeats = space.head().repeats();
    long trials = space.head().trials();
    long fixed =
        switch (space.head().design()) {
          case GRID -> grid();
          case LIST -> space.points().size();
          default -> 0;
        };
    places = fixed > 0 ? fixed : trials / repeats;
    if (places < 1 || places > trials / repeats) {
      throw new SpaceException(
          trials
              + " trials are too few: design "
              + space.head().design().key()
              + " has "
              + Math.max(1, places)
              + (places > 1 ? " points" : " point")
              + (repeats > 1 ? " with " + repeats + " repeats each" : "")
              + "; at least "
              + Math.max(1, places) * repeats
              + " trials are needed");
    }
    if (repeats > 1 && places > MOST_PLACES) {
      throw new SpaceException(
          places
              + " points of the settings cannot be compared; at most "
              + MOST_PLACES
              + " are allowed: raise repeats or lower trials");
    }
    correlated = factor(space.correlations());
  }

  private long grid() throws SpaceException {
    long product = 1;
    for (Factor factor : factors) {
      if (repeats == 1 || factor.isOfSettings()) {
        product *= levels(factor);
        if (product > 1_000_000_000_000L) {
          throw new SpaceException("the grid has more than 10^12 points; lower levels");
        }
      }
    }
    return product;
  }

  private int levels(Factor factor) {
    return factor.shape() == Factor.Shape.CHOICE
        ? factor.choices().size()
        : (int) Math.min(space.head().levels(), factor.high() - factor.low() + 1);
  }

  @Override
  public long units() {
    return places * repeats;
  }

  @Override
  public int unitTrials() {
    return 1;
  }

  @Override
  public int place(long unit) {
    return repeats > 1 ? (int) (unit / repeats) : 0;
  }

  @Override
  public int places() {
    return repeats > 1 ? (int) places : 0;
  }

  @Override
  public long rest(long unit, int member) {
    return repeats > 1 ? unit % repeats : unit;
  }

  @Override
  public void placed(int place, long[] values) {
    place(place, values, true);
  }

  @Override
  public void point(long unit, int member, long[] values) {
    if (repeats == 1) {
      place(unit, values, false);
      return;
    }
    double[] shares = OtherFactors.shares(factors.size(), seed, unit % repeats);
    OtherFactors.set(factors, correlate(shares), values);
    place(unit / repeats, values, true);
  }

  private void place(long place, long[] values, boolean settingsAlone) {
    switch (space.head().design()) {
      case GRID -> {
        long left = place;
        for (int i = 0; i < values.length; i++) {
          Factor factor = factors.get(i);
          if (!settingsAlone || factor.isOfSettings()) {
            int levels = levels(factor);
            int level = (int) (left % levels);
            left /= levels;
            values[i] =
                factor.shape() == Factor.Shape.CHOICE
                    ? level
                    : factor.at(levels == 1 ? 0 : level / (levels - 1.0));
          }
        }
      }
      case LIST -> {
        List<Long> point = space.points().get((int) place);
        for (int i = 0; i < values.length; i++) {
          values[i] = point.get(i);
        }
      }
      default -> {
        double[] shares = shares(place);
        for (int i = 0; i < values.length; i++) {
          if (!settingsAlone || factors.get(i).isOfSettings()) {
            values[i] = factors.get(i).at(shares[i]);
          }
        }
      }
    }
  }

  /** A point of the unit cube; its stratum in each direction is that of a Latin hypercube. */
  private double[] shares(long place) {
    int n = factors.size();
    double[] shares = new double[n];
    RandomStream random = RandomStream.of(RandomStream.trialSeed(seed, place), "point");
    boolean latin = space.head().design() == Space.Design.LATIN_HYPERCUBE;
    for (int i = 0; i < n; i++) {
      shares[i] = random.nextDouble();
      if (latin) {
        shares[i] = (Shuffle.at(place, places, seed, i) + shares[i]) / places;
      }
    }
    return correlate(shares);
  }

  /**
   * Normal scores with the wanted correlation (a Gaussian copula). With repeats, the reader permits
   * none between a setting and another factor, so settings and other factors do not mix here.
   */
  private double[] correlate(double[] shares) {
    int n = correlated.length;
    if (n == 0) {
      return shares;
    }
    double[] scores = new double[n];
    for (int i = 0; i < n; i++) {
      scores[i] = NORMAL.inverseCumulativeProbability(Math.max(1e-15, shares[i]));
    }
    double[] out = new double[n];
    for (int i = 0; i < n; i++) {
      double sum = 0;
      for (int j = 0; j <= i; j++) {
        sum += correlated[i][j] * scores[j];
      }
      out[i] = NORMAL.cumulativeProbability(sum);
    }
    return out;
  }

  /** The triangular root of a positive semidefinite matrix: a column without a rest is 0. */
  private static double[][] factor(List<List<Double>> matrix) {
    int n = matrix.size();
    double[][] root = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j <= i; j++) {
        double sum = matrix.get(i).get(j);
        for (int k = 0; k < j; k++) {
          sum -= root[i][k] * root[j][k];
        }
        root[i][j] =
            i == j ? Math.sqrt(Math.max(0, sum)) : root[j][j] > 1e-6 ? sum / root[j][j] : 0;
      }
    }
    return root;
  }
}
