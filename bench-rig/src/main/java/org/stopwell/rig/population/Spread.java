package org.stopwell.rig.population;

import java.math.BigDecimal;
import java.math.RoundingMode;
import org.stopwell.core.number.Elementary;
import org.stopwell.core.settings.Parameter;
import org.stopwell.rig.random.RandomStream;

/**
 * How one key of a scene is spread over a population.
 *
 * @param parameter the key
 * @param shape the family of the distribution
 * @param a mean of a {@link Shape#NORMAL}, median of a {@link Shape#LOG_NORMAL}, else least value;
 *     unit of the key
 * @param b standard deviation of a {@link Shape#NORMAL}, unit of the key; factor of one standard
 *     deviation of a {@link Shape#LOG_NORMAL}; else greatest value, unit of the key
 * @param least least value drawn, unit of the key
 * @param greatest greatest value drawn, unit of the key
 * @param source where the numbers come from, or the word "assumed"
 */
record Spread(
    Parameter parameter,
    Shape shape,
    double a,
    double b,
    double least,
    double greatest,
    String source) {

  /** Families of distributions. */
  enum Shape {
    /** Gaussian, drawn again outside of its limits. */
    NORMAL,
    /** All values equally likely. */
    EVEN,
    /** All ratios equally likely: the logarithm is uniform. */
    LOG_EVEN,
    /** The logarithm is Gaussian, drawn again outside of its limits. */
    LOG_NORMAL
  }

  static Spread normal(
      Parameter parameter, double mean, double sd, double least, double greatest, String source) {
    return new Spread(parameter, Shape.NORMAL, mean, sd, least, greatest, source);
  }

  /** A median, and the factor that one standard deviation of the logarithm is. */
  static Spread logNormal(
      Parameter parameter,
      double median,
      double factor,
      double least,
      double greatest,
      String source) {
    return new Spread(parameter, Shape.LOG_NORMAL, median, factor, least, greatest, source);
  }

  static Spread even(Parameter parameter, double least, double greatest, String source) {
    return new Spread(parameter, Shape.EVEN, least, greatest, least, greatest, source);
  }

  static Spread logEven(Parameter parameter, double least, double greatest, String source) {
    return new Spread(parameter, Shape.LOG_EVEN, least, greatest, least, greatest, source);
  }

  /** Draws a value as decimal text in the unit of the key. */
  String draw(RandomStream random) {
    double value =
        switch (shape) {
          case NORMAL -> drawNormal(random);
          case LOG_NORMAL -> drawLogNormal(random);
          case EVEN -> random.nextBetween(a, b);
          case LOG_EVEN -> Elementary.exp(random.nextBetween(Elementary.log(a), Elementary.log(b)));
        };
    return BigDecimal.valueOf(value)
        .setScale(parameter.decimals(), RoundingMode.HALF_EVEN)
        .toPlainString();
  }

  private double drawLogNormal(RandomStream random) {
    double value;
    do {
      value = a * Elementary.pow(b, random.nextGaussian());
    } while (!(value >= least && value <= greatest));
    return value;
  }

  private double drawNormal(RandomStream random) {
    double value;
    do {
      value = a + b * random.nextGaussian();
    } while (!(value >= least && value <= greatest));
    return value;
  }
}
