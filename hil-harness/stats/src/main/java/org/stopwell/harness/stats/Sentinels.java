package org.stopwell.harness.stats;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Sentinels, trials with a known answer, prove the rig: each is compared with its expected value
 * and standard deviation, by the multirule of Westgard and others (Clinical Chemistry 27, 1981,
 * 493). Every limit of the multirule moves outwards by the same widening, so that a campaign with
 * many sentinels, or with a known answer from few trials, gives no more false alarms ({@link
 * SentinelAlarms}). A bad sentinel invalidates every trial back to the last good one.
 *
 * @param expected the known answer
 * @param deviation standard deviation of a sound rig, above 0, in the same unit
 * @param widening how far every limit is moved outwards, standard deviations, 0 or more
 */
public record Sentinels(double expected, double deviation, double widening) {
  /** The rule that a sentinel broke. */
  public enum Rule {
    /** One sentinel more than three standard deviations off. */
    ONE_BEYOND_3S(3, "one beyond %s SD"),
    /** Two in a row more than two off, on the same side. */
    TWO_BEYOND_2S(2, "two in a row beyond %s SD on one side"),
    /** Two in a row more than two off, on opposite sides. */
    RANGE_OF_4S(2, "two in a row beyond %s SD on opposite sides"),
    /** Four in a row more than one off, on the same side. */
    FOUR_BEYOND_1S(1, "four in a row beyond %s SD on one side"),
    /** Ten in a row on the same side. */
    TEN_ON_ONE_SIDE(0, "ten in a row beyond %s SD on one side");

    private final int limit;
    private final String text;

    Rule(int limit, String text) {
      this.limit = limit;
      this.text = text;
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
   * @throws IllegalArgumentException unless the deviation is above 0 and the widening 0 or more
   */
  public Sentinels {
    if (!(deviation > 0)) {
      throw new IllegalArgumentException("deviation " + deviation + ", must be above 0");
    }
    if (!(widening >= 0)) {
      throw new IllegalArgumentException("widening " + widening + ", must be 0 or more");
    }
  }

  /**
   * The multirule as published, without a widening.
   *
   * @param expected the known answer
   * @param deviation standard deviation of a sound rig, above 0, in the same unit
   */
  public Sentinels(double expected, double deviation) {
    this(expected, deviation, 0);
  }

  /**
   * A rule with its limit.
   *
   * @param rule the rule
   * @return a few plain words
   */
  public String text(Rule rule) {
    return rule == Rule.TEN_ON_ONE_SIDE && widening == 0
        ? "ten in a row on one side"
        : String.format(
            Locale.ROOT,
            rule.text,
            BigDecimal.valueOf(limit(rule))
                .setScale(2, RoundingMode.HALF_UP)
                .stripTrailingZeros()
                .toPlainString());
  }

  /**
   * The limit of a rule.
   *
   * @param rule the rule
   * @return standard deviations
   */
  public double limit(Rule rule) {
    return rule.limit + widening;
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

  private Optional<Rule> broken(List<Double> row) {
    double last = row.get(row.size() - 1);
    if (Math.abs(last) > limit(Rule.ONE_BEYOND_3S)) {
      return Optional.of(Rule.ONE_BEYOND_3S);
    }
    if (sameSide(row, 2, Rule.TWO_BEYOND_2S)) {
      return Optional.of(Rule.TWO_BEYOND_2S);
    }
    if (row.size() >= 2) {
      double before = row.get(row.size() - 2);
      double limit = limit(Rule.RANGE_OF_4S);
      if (Math.min(last, before) < -limit && Math.max(last, before) > limit) {
        return Optional.of(Rule.RANGE_OF_4S);
      }
    }
    if (sameSide(row, 4, Rule.FOUR_BEYOND_1S)) {
      return Optional.of(Rule.FOUR_BEYOND_1S);
    }
    return sameSide(row, 10, Rule.TEN_ON_ONE_SIDE)
        ? Optional.of(Rule.TEN_ON_ONE_SIDE)
        : Optional.empty();
  }

  private boolean sameSide(List<Double> row, int count, Rule rule) {
    if (row.size() < count) {
      return false;
    }
    double limit = limit(rule);
    List<Double> newest = row.subList(row.size() - count, row.size());
    return newest.stream().allMatch(z -> z > limit) || newest.stream().allMatch(z -> z < -limit);
  }
}
