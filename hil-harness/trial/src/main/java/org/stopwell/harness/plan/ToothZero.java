package org.stopwell.harness.plan;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * The true zero of an extracted tooth: its foramen, as observers read it under a microscope. Two
 * observers read it three times each, every time from the start.
 *
 * <p>A reading is the true place, the bias of its observer and a scatter. The scatter comes from
 * the readings (type A of JCGM 100:2008, 4.2). Two observers alone say little about observers, so
 * the spread between them is stated (type B, 4.3), and counts for more where the readings show
 * more.
 *
 * @param readingsMicrons readings by observer, µm on one scale; all observers have equally many
 * @param observerMicrons stated standard deviation between observers, µm
 */
public record ToothZero(Map<String, List<Integer>> readingsMicrons, int observerMicrons) {
  /** Observers that read a zero. */
  public static final int OBSERVERS = 2;

  /** Readings of each observer. */
  public static final int READINGS = 3;

  /** Greatest U95 of a zero that can be used, µm (assumed: a tenth of a tolerance of 0.5 mm). */
  public static final int LIMIT_MICRONS = 50;

  /** Farthest place of a reading on its scale, µm; assumed: no canal is longer. */
  public static final int FARTHEST_MICRONS = 30_000;

  /** Regular expression of the code of an observer. */
  public static final String CODE = DeviceReader.CODE;

  /** What a pixel of the picture shows, µm (assumed: requirement for the microscope). */
  private static final double PIXEL_MICRONS = 5;

  private static final double TAIL = 0.025;

  /** Copies the readings, in their order. */
  public ToothZero {
    Map<String, List<Integer>> copy = new LinkedHashMap<>();
    readingsMicrons.forEach((observer, readings) -> copy.put(observer, List.copyOf(readings)));
    readingsMicrons = copy;
  }

  /**
   * The zero: the mean of all readings.
   *
   * @return µm on the scale of the readings
   */
  public double meanMicrons() {
    return mean(all());
  }

  /**
   * Scatter of one reading of one observer, pooled (type A).
   *
   * @return standard deviation, µm
   */
  public double withinMicrons() {
    double squares = 0;
    for (List<Integer> own : all()) {
      double mean = mean(List.of(own));
      squares += own.stream().mapToDouble(x -> (x - mean) * (x - mean)).sum();
    }
    return Math.sqrt(squares / withinFreedom());
  }

  /**
   * Spread between observers: the stated one, or that of the readings where it is greater.
   *
   * @return standard deviation, µm
   */
  public double betweenMicrons() {
    double mean = meanMicrons();
    double squares =
        all().stream().mapToDouble(own -> Math.pow(mean(List.of(own)) - mean, 2)).sum();
    double each = withinMicrons() * withinMicrons() / all().iterator().next().size();
    return Math.max(observerMicrons, Math.sqrt(Math.max(0, squares / (all().size() - 1.0) - each)));
  }

  /**
   * Standard uncertainty of the zero: scatter, observers, and the pixel, which all readings share
   * (JCGM 100:2008, 5.1.2 and F.2.2.1).
   *
   * @return µm
   */
  public double standardMicrons() {
    double between = betweenMicrons();
    return Math.sqrt(
        meanSquare() + between * between / all().size() + PIXEL_MICRONS * PIXEL_MICRONS / 12);
  }

  /**
   * U95 of the zero, with the effective degrees of freedom of Welch and Satterthwaite (JCGM
   * 100:2008, G.4.1).
   *
   * @return µm
   */
  public double expandedMicrons() {
    double u = standardMicrons();
    double own = meanSquare();
    double freedom =
        own == 0
            ? Double.POSITIVE_INFINITY
            : Math.floor(Math.pow(u, 4) / (own * own / withinFreedom()));
    return u
        * (Double.isInfinite(freedom)
            ? NormalDistribution.of(0, 1).inverseSurvivalProbability(TAIL)
            : TDistribution.of(freedom).inverseSurvivalProbability(TAIL));
  }

  /**
   * Whether the zero can be used.
   *
   * @return true with a U95 of at most {@link #LIMIT_MICRONS}
   */
  public boolean isUsable() {
    return expandedMicrons() <= LIMIT_MICRONS;
  }

  /**
   * The zero in a few words.
   *
   * @return mean and U95
   */
  public String words() {
    return String.format(
        Locale.ROOT, "zero at %.1f µm, U95 %.1f µm", meanMicrons(), expandedMicrons());
  }

  /**
   * Why a zero cannot be used.
   *
   * @return value, limit, and what it comes from
   */
  public String refusal() {
    return String.format(
        Locale.ROOT,
        "U95 of the zero is %.1f µm, at most %d µm is allowed: %.1f µm between readings, %.1f µm"
            + " between observers",
        expandedMicrons(),
        LIMIT_MICRONS,
        withinMicrons(),
        betweenMicrons());
  }

  /** Squared standard uncertainty of the mean by the scatter alone, µm². */
  private double meanSquare() {
    double within = withinMicrons();
    return within * within / all().stream().mapToInt(List::size).sum();
  }

  private int withinFreedom() {
    return all().stream().mapToInt(own -> own.size() - 1).sum();
  }

  private Collection<List<Integer>> all() {
    return readingsMicrons.values();
  }

  private static double mean(Collection<List<Integer>> readings) {
    return readings.stream().flatMap(List::stream).mapToInt(x -> x).average().orElseThrow();
  }
}
