package org.stopwell.rig.network;

import java.util.List;
import java.util.stream.IntStream;

/** Preferred numbers of resistors and capacitors, IEC 60063. */
public enum ESeries {
  /** 6 values a decade, 20 %. */
  E6(6),
  /** 12 values a decade, 10 %. */
  E12(12),
  /** 24 values a decade, 5 %. */
  E24(24),
  /** 96 values a decade, 1 %. */
  E96(96);

  /** Not quite the rounded powers of ten: IEC 60063 kept eight older values (27 to 47, and 82). */
  private static final int[] TENTHS_OF_E24 = {
    10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91
  };

  private final int perDecade;

  ESeries(int perDecade) {
    this.perDecade = perDecade;
  }

  /**
   * How many values a decade holds.
   *
   * @return 6 to 96
   */
  public int perDecade() {
    return perDecade;
  }

  /**
   * One value.
   *
   * @param index 0 is 1; one decade further with every {@link #perDecade()}; may be negative
   * @return the value
   */
  public double value(int index) {
    int decade = Math.floorDiv(index, perDecade);
    int place = Math.floorMod(index, perDecade);
    // A whole number scaled once, so that every value is the double nearest to its decimal.
    int hundredths =
        perDecade == 96
            ? (int) Math.rint(100 * Math.pow(10, place / 96.0))
            : 10 * TENTHS_OF_E24[place * (24 / perDecade)];
    int power = decade - 2;
    return power < 0 ? hundredths / Math.pow(10, -power) : hundredths * Math.pow(10, power);
  }

  /**
   * The greatest value that is not above a limit.
   *
   * @param limit the limit, above 0
   * @return a value of the series
   */
  public double atMost(double limit) {
    if (!(limit > 0)) {
      throw new IllegalArgumentException("limit " + limit + " is not above 0");
    }
    int index = (int) Math.floor(perDecade * Math.log10(limit)) + 1;
    while (value(index) > limit) {
      index--;
    }
    return value(index);
  }

  /**
   * The value with the least relative error.
   *
   * @param wanted what is wanted, above 0
   * @return a value of the series
   */
  public double nearest(double wanted) {
    double below = atMost(wanted);
    int index = (int) Math.rint(perDecade * Math.log10(below));
    double above = value(index);
    while (above <= below) {
      index++;
      above = value(index);
    }
    return wanted - below <= above - wanted ? below : above;
  }

  /**
   * One decade from 1 on.
   *
   * @return ascending values
   */
  public List<Double> decade() {
    return IntStream.range(0, perDecade).mapToObj(this::value).toList();
  }
}
