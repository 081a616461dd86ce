package org.stopwell.harness.plan;

import java.util.List;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.stopwell.core.settings.Parameter;

/**
 * A value of a plan that an exploration changes from trial to trial.
 *
 * @param key its full key, such as {@code scene.canal.length_mm}
 * @param parameter the value
 * @param shape how it is spread
 * @param low least value, base units; 0 for a choice
 * @param high greatest value, base units; the last place for a choice
 * @param choices the values of a choice as written; empty for other shapes
 * @param line where it stands in the file
 */
public record Factor(
    String key,
    Parameter parameter,
    Shape shape,
    long low,
    long high,
    List<String> choices,
    int line) {

  /** Standard deviations at which a normal distribution is cut, as under {@code vary}. */
  public static final int CUT = Variation.CUT;

  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
  private static final double BELOW = NORMAL.cumulativeProbability(-CUT);

  /** One unit of {@link #position}: 20 binary places. */
  public static final int ONE = 1 << 20;

  /** How a value is spread. */
  public enum Shape {
    /** Every value from low to high is as likely as any other. */
    EVEN,
    /** Every factor of growth is as likely as any other. */
    LOG,
    /** A normal distribution cut at {@link #CUT} standard deviations, which are low and high. */
    BELL,
    /** Every value of a list is as likely as any other. */
    CHOICE
  }

  /** Copies the choices. */
  public Factor {
    choices = List.copyOf(choices);
  }

  /**
   * Whether the controller has this value, and not the canal or the bench.
   *
   * @return true for a key below {@code settings}
   */
  public boolean isOfSettings() {
    return key.startsWith("settings.");
  }

  /**
   * The value below which a share of all values lies.
   *
   * @param share from 0 to 1
   * @return base units, or the place of a choice
   */
  public long at(double share) {
    double value =
        switch (shape) {
          case EVEN, CHOICE -> Math.floor(low + share * ((double) (high - low) + 1));
          case LOG ->
              StrictMath.rint(
                  StrictMath.exp(
                      StrictMath.log((double) low)
                          + share
                              * (StrictMath.log((double) high) - StrictMath.log((double) low))));
          case BELL ->
              StrictMath.rint(
                  (low + high) / 2.0
                      + (high - low)
                          / (2.0 * CUT)
                          * NORMAL.inverseCumulativeProbability(BELOW + share * (1 - 2 * BELOW)));
        };
    return Math.max(low, Math.min(high, (long) value));
  }

  /**
   * Where a value lies between low and high; by its logarithm for {@link Shape#LOG}.
   *
   * @param value base units, or the place of a choice
   * @return from −{@link #ONE} to {@link #ONE}
   */
  public int position(long value) {
    if (high == low) {
      return 0;
    }
    double share =
        shape == Shape.LOG
            ? (StrictMath.log((double) value) - StrictMath.log((double) low))
                / (StrictMath.log((double) high) - StrictMath.log((double) low))
            : (value - low) / (double) (high - low);
    return (int) StrictMath.rint((2 * share - 1) * ONE);
  }

  /**
   * A value as people write it.
   *
   * @param value base units, or the place of a choice
   * @return the text in a plan
   */
  public String text(long value) {
    return shape == Shape.CHOICE ? choices.get((int) value) : parameter.human(value);
  }

  /**
   * How it is spread, in a few words.
   *
   * @return such as {@code 8 to 18 mm}
   */
  public String spread() {
    String unit = parameter.unit().isEmpty() ? "" : " " + parameter.unit();
    return switch (shape) {
      case EVEN -> text(low) + " to " + text(high) + unit + ", even";
      case LOG -> text(low) + " to " + text(high) + unit + ", even in the logarithm";
      case BELL -> text(low) + " to " + text(high) + unit + ", normal cut at ±" + CUT + " SD";
      case CHOICE -> String.join(", ", choices) + unit;
    };
  }
}
