package org.stopwell.harness.stats;

/**
 * An interval of estimates.
 *
 * @param low its lower end
 * @param high its upper end
 */
public record Interval(double low, double high) {
  /**
   * Checks the order of the ends.
   *
   * @throws IllegalArgumentException when an end is not a number or they are the wrong way round
   */
  public Interval {
    if (!(low <= high)) {
      throw new IllegalArgumentException("interval from " + low + " to " + high);
    }
  }

  /**
   * Whether a whole other interval lies inside.
   *
   * @param inner the other interval
   * @return true when no part of it is outside
   */
  public boolean contains(Interval inner) {
    return low <= inner.low && inner.high <= high;
  }

  /**
   * Whether two intervals share no point.
   *
   * @param other the other interval
   * @return true when one lies wholly below the other
   */
  public boolean isApartFrom(Interval other) {
    return high < other.low || other.high < low;
  }
}
