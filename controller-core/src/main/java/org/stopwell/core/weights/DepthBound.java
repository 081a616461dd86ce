package org.stopwell.core.weights;

/**
 * What turns a standard error into a bound: a factor that depends on how unlike the training a
 * reading is. Immutable.
 *
 * <p>Novelty is the mean square of some sums of the normalised inputs. With sums that have variance
 * 1 in training, novelty is about 1 there and greater elsewhere. Without sums it is 0.
 */
public final class DepthBound {
  /** 95 % of a normal distribution lies within this many standard deviations. */
  private static final double NORMAL_95 = 1.96;

  private static final DepthLayer NO_SUMS = new DepthLayer(new int[1][0], new int[0], 1);

  /** A bound of 1.96 standard errors everywhere. */
  public static final DepthBound NORMAL =
      new DepthBound(NO_SUMS, new double[] {0}, new double[] {NORMAL_95}, Double.POSITIVE_INFINITY);

  /** Bits of a sum behind the point. */
  public static final int SUM_BITS = 12;

  private static final int MOST_SUM = 1 << 30;
  private static final double UNIT = 1 << SUM_BITS;

  private final DepthLayer sums;
  private final double[] novelties;
  private final double[] factors;
  private final double limit;

  /**
   * A bound.
   *
   * @param sums the sums of the inputs; a layer without outputs where there are none
   * @param novelties where the factors are given, rising
   * @param factors bound over standard error there, each at least the one before; straight between
   *     them, level before the first and behind the last; one infinite factor states no bound
   * @param limit a reading of greater novelty is unlike everything learned; infinite for none
   * @throws IllegalArgumentException when the parts do not fit together
   */
  public DepthBound(DepthLayer sums, double[] novelties, double[] factors, double limit) {
    this.sums = sums.outputs() == 0 ? NO_SUMS : sums;
    this.novelties = novelties.clone();
    this.factors = factors.clone();
    this.limit = limit;
    if (factors.length == 0 || novelties.length != factors.length) {
      throw new IllegalArgumentException(
          factors.length + " factors for " + novelties.length + " novelties");
    }
    for (int i = 0; i < factors.length; i++) {
      if (!(factors[i] > 0 && novelties[i] >= 0)
          || (i > 0 && !(factors[i] >= factors[i - 1] && novelties[i] > novelties[i - 1]))) {
        throw new IllegalArgumentException(
            "factor " + factors[i] + " at novelty " + novelties[i] + " does not rise");
      }
    }
    if (!(limit > 0)) {
      throw new IllegalArgumentException("novelty limit " + limit + " is not above 0");
    }
  }

  /**
   * The sums whose mean square is the novelty.
   *
   * @return a layer of sums; without outputs where there are none
   */
  public DepthLayer sums() {
    return sums;
  }

  /**
   * Where the factors are given.
   *
   * @return a copy, rising
   */
  public double[] novelties() {
    return novelties.clone();
  }

  /**
   * Bound over standard error.
   *
   * @return a copy, one per novelty
   */
  public double[] factors() {
    return factors.clone();
  }

  /**
   * The novelty beyond which a reading is unlike everything learned.
   *
   * @return infinite for none
   */
  public double limit() {
    return limit;
  }

  /**
   * The novelty of a reading.
   *
   * @param normalised inputs as the first layer of a network took them
   * @param scratch as long as the layer has sums; receives them
   * @return from 0 up
   */
  public double novelty(int[] normalised, int[] scratch) {
    int count = sums.outputs();
    if (count == 0) {
      return 0;
    }
    sums.run(normalised, scratch, MOST_SUM);
    double squares = 0;
    for (int i = 0; i < count; i++) {
      double sum = scratch[i] / UNIT;
      squares += sum * sum;
    }
    return squares / count;
  }

  /**
   * Bound over standard error at a novelty.
   *
   * @param novelty from 0 up
   * @return the factor
   */
  public double factor(double novelty) {
    int last = novelties.length - 1;
    if (!(novelty > novelties[0])) {
      return factors[0];
    }
    for (int i = 1; i <= last; i++) {
      if (novelty < novelties[i]) {
        double share = (novelty - novelties[i - 1]) / (novelties[i] - novelties[i - 1]);
        return factors[i - 1] + share * (factors[i] - factors[i - 1]);
      }
    }
    return factors[last];
  }
}
