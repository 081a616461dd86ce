package org.stopwell.harness.stats;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Sentinels, trials with a known answer, prove the rig: each is compared with its expected value
 * and standard deviation, by the multirule of Westgard and others (Clinical Chemistry 27, 1981,
 * 493). A bad sentinel invalidates every trial back to the last good one.
 *
 * @param expected the known answer
 * @param deviation standard deviation of a sound rig, above 0, in the same unit
 */
public record Sentinels(double expected, double deviation) {
  /** The rule that a sentinel broke. */
  public enum Rule {
    /** One sentinel more than three standard deviations off. */
    ONE_BEYOND_3S("one beyond 3 SD"),
    /** Two in a row more than two off, on the same side. */
    TWO_BEYOND_2S("two in a row beyond 2 SD"),
    /** Two in a row more than four apart, one above and one below two. */
    RANGE_OF_4S("two in a row 4 SD apart"),
    /** Four in a row more than one off, on the same side. */
    FOUR_BEYOND_1S("four in a row beyond 1 SD"),
    /** Ten in a row on the same side. */
    TEN_ON_ONE_SIDE("ten in a row on one side");

    private final String text;

    Rule(String text) {
      this.text = text;
    }

    /**
     * The rule.
     *
     * @return a few plain words
     */
    public String text() {
      return text;
    }
  }

  /**
   * One sentinel in its run.
   *
   * @param trial its position in run order
   * @param z its distance from the expected value in standard deviations
   * @param broken the rule it breaks together with those before it, empty when the rig is sound
   */
  public record Point(int trial, double z, Optional<Rule> broken) {}

  /**
   * One measured sentinel.
   *
   * @param trial its position in run order
   * @param value what was measured
   */
  public record Measured(int trial, double value) {}

  /**
   * Checks the expectation.
   *
   * @throws IllegalArgumentException unless the deviation is above 0
   */
  public Sentinels {
    if (!(deviation > 0)) {
      throw new IllegalArgumentException("deviation " + deviation + ", must be above 0");
    }
  }

  /**
   * Judges sentinels in run order. After a broken rule the rig is assumed repaired, and the rows
   * start again.
   *
   * @param measured the sentinels, by ascending trial
   * @return one point per sentinel
   */
  public List<Point> judge(List<Measured> measured) {
    List<Point> points = new ArrayList<>();
    List<Double> row = new ArrayList<>();
    for (Measured m : measured) {
      double z = (m.value() - expected) / deviation;
      row.add(z);
      Optional<Rule> broken = broken(row);
      points.add(new Point(m.trial(), z, broken));
      if (broken.isPresent()) {
        row.clear();
      }
    }
    return points;
  }

  /**
   * The trials that bad sentinels invalidate: from after the last good sentinel up to the bad one.
   *
   * @param points what {@link #judge} gave
   * @return ascending stretches of run order, both ends included
   */
  public static List<int[]> invalid(List<Point> points) {
    List<int[]> stretches = new ArrayList<>();
    int firstUnproven = 0;
    for (Point point : points) {
      if (point.broken().isPresent()) {
        stretches.add(new int[] {firstUnproven, point.trial()});
      }
      firstUnproven = point.trial() + 1;
    }
    return stretches;
  }

  private static Optional<Rule> broken(List<Double> row) {
    double last = row.get(row.size() - 1);
    if (Math.abs(last) > 3) {
      return Optional.of(Rule.ONE_BEYOND_3S);
    }
    if (sameSideBeyond(row, 2, 2)) {
      return Optional.of(Rule.TWO_BEYOND_2S);
    }
    if (row.size() >= 2) {
      double before = row.get(row.size() - 2);
      if (Math.min(last, before) < -2 && Math.max(last, before) > 2) {
        return Optional.of(Rule.RANGE_OF_4S);
      }
    }
    if (sameSideBeyond(row, 4, 1)) {
      return Optional.of(Rule.FOUR_BEYOND_1S);
    }
    return sameSideBeyond(row, 10, 0) ? Optional.of(Rule.TEN_ON_ONE_SIDE) : Optional.empty();
  }

  private static boolean sameSideBeyond(List<Double> row, int count, double limit) {
    if (row.size() < count) {
      return false;
    }
    List<Double> newest = row.subList(row.size() - count, row.size());
    return newest.stream().allMatch(z -> z > limit) || newest.stream().allMatch(z -> z < -limit);
  }
}
