package org.stopwell.harness.stats;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.concurrent.ConcurrentHashMap;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * How often the rules of {@link Sentinels} give an alarm: on a sound bench, and after a lasting
 * shift. The probability is exact for sentinels that are independent and normal: a Markov chain
 * over what the rules remember (Brook and Evans, Biometrika 1972;59:539), averaged over the error
 * of a mean and a standard deviation that were learned from a limited number of trials.
 */
public final class SentinelAlarms {
  /**
   * The share of campaigns with a false alarm that the limits are made for, if rests are normal. It
   * is a quarter of the 2 % that a campaign may have, because rests have longer tails: 3,000
   * sentinels of the virtual bench have a skewness of 0.4 and give twice the share.
   */
  private static final double TARGET = 0.005;

  /** A widening is a multiple of this, in standard deviations. */
  private static final double STEP = 0.01;

  /** No widening is larger, in standard deviations. */
  private static final double WIDEST = 12;

  /** From so many sentinels on, each further one survives with the same probability. */
  private static final int SETTLED = 60;

  /** Distance and reach of the points at which a normal density is summed. */
  private static final double GRID = 0.5;

  private static final int REACH = 8;

  private static final int LONGEST = 9;
  private static final int STATES = 2 * LONGEST * 4 * 2 + 1;
  private static final int NEUTRAL = STATES - 1;

  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
  private static final Map<List<Integer>, Double> KNOWN = new ConcurrentHashMap<>();

  private SentinelAlarms() {}

  /**
   * How far every limit must move outwards so that few sound benches give an alarm.
   *
   * @param sentinels known-answer trials of the campaign, at least 1
   * @param learnedFrom trials that mean and standard deviation were learned from, at least 3; 0
   *     when both are exact
   * @return standard deviations, 0 or more, a multiple of 0.01
   */
  public static double widening(int sentinels, int learnedFrom) {
    return KNOWN.computeIfAbsent(
        List.of(sentinels, learnedFrom), key -> solve(sentinels, learnedFrom));
  }

  private static double solve(int sentinels, int learnedFrom) {
    int low = -1;
    int high = (int) Math.round(WIDEST / STEP);
    while (high - low > 1) {
      int middle = (low + high) / 2;
      if (probability(sentinels, learnedFrom, middle * STEP, 0) <= TARGET) {
        high = middle;
      } else {
        low = middle;
      }
    }
    return Math.round(high * STEP * 100) / 100.0;
  }

  /**
   * The probability of at least one alarm.
   *
   * @param sentinels known-answer trials in a row, at least 1
   * @param learnedFrom trials that mean and standard deviation were learned from, at least 3; 0
   *     when both are exact
   * @param widening how far every limit is moved outwards, standard deviations
   * @param shift lasting shift of the bench from the first sentinel on, standard deviations; 0 for
   *     a sound bench
   * @return 0 to 1
   */
  public static double probability(int sentinels, int learnedFrom, double widening, double shift) {
    double[] silent = silences(sentinels, learnedFrom, widening, shift);
    return 1 - silent[silent.length - 1];
  }

  /** The probability of no alarm after each sentinel up to a settled number, and after the last. */
  private static double[] silences(int sentinels, int learnedFrom, double widening, double shift) {
    double[] sum = new double[Math.min(sentinels, SETTLED) + 1];
    if (learnedFrom == 0) {
      addSilence(sum, 1, sentinels, widening, shift, 1);
      return sum;
    }
    double freedom = learnedFrom - 1.0;
    double weights = 0;
    for (int i = -REACH; i <= REACH; i++) {
      // Wilson and Hilferty 1931: the cube root of chi-squared is nearly normal.
      double root = 1 - 2 / (9 * freedom) + i * GRID * Math.sqrt(2 / (9 * freedom));
      double spread = Math.pow(Math.max(0, root), 1.5);
      // Both sides are alike on a sound bench.
      for (int j = shift == 0 ? 0 : -REACH; j <= REACH; j++) {
        double weight =
            NORMAL.density(i * GRID) * NORMAL.density(j * GRID) * (shift == 0 && j > 0 ? 2 : 1);
        double error = j * GRID / Math.sqrt(learnedFrom);
        weights += weight;
        addSilence(sum, weight, sentinels, widening, shift - error, spread);
      }
    }
    for (int n = 0; n < sum.length; n++) {
      sum[n] /= weights;
    }
    return sum;
  }

  /**
   * How many sentinels after a lasting shift find it.
   *
   * @param most the largest number that is of interest
   * @param learnedFrom trials that mean and standard deviation were learned from; 0 when exact
   * @param widening how far every limit is moved outwards, standard deviations
   * @param shift the shift, standard deviations
   * @param power the wanted probability, such as 0.9
   * @return the least number with that probability, empty when it is above {@code most}
   */
  public static OptionalInt foundAfter(
      int most, int learnedFrom, double widening, double shift, double power) {
    int reach = Math.min(most, SETTLED);
    double[] silent = silences(reach, learnedFrom, widening, shift);
    for (int n = 1; n <= reach; n++) {
      if (1 - silent[n - 1] >= power) {
        return OptionalInt.of(n);
      }
    }
    return OptionalInt.empty();
  }

  /**
   * One row of the table.
   *
   * @param sentinels known-answer trials of a campaign
   * @param learnedFrom trials that the known answer was learned from; 0 when exact
   * @param widening the widening in use, standard deviations
   * @param falseAlarm exact probability of an alarm on a sound bench
   * @param foundAfter sentinels until a lasting shift of 1, 2, 3 and 4 standard deviations is found
   *     with probability 0.9; 0 when it takes more than 60
   */
  public record Row(
      int sentinels,
      int learnedFrom,
      double widening,
      double falseAlarm,
      List<Integer> foundAfter) {
    /** Takes a copy. */
    public Row {
      foundAfter = List.copyOf(foundAfter);
    }
  }

  /**
   * False alarms and power of the rules, for every pair of the numbers given.
   *
   * @param sentinels numbers of known-answer trials in a campaign
   * @param learnedFrom numbers of trials that the known answer was learned from; 0 for exact
   * @return one row per pair
   */
  public static List<Row> table(List<Integer> sentinels, List<Integer> learnedFrom) {
    List<Row> rows = new ArrayList<>();
    for (int n : sentinels) {
      for (int learned : learnedFrom) {
        double widening = widening(n, learned);
        List<Integer> found = new ArrayList<>();
        for (int shift = 1; shift <= 4; shift++) {
          found.add(foundAfter(SETTLED, learned, widening, shift, 0.9).orElse(0));
        }
        rows.add(new Row(n, learned, widening, probability(n, learned, widening, 0), found));
      }
    }
    return rows;
  }

  /** Adds the probabilities of no alarm, with a known shift and a known ratio of the spreads. */
  private static void addSilence(
      double[] to, double weight, int sentinels, double widening, double shift, double spread) {
    // Six zones: the near, middle and far one of each side. Beyond them one sentinel is enough.
    double[] zones = new double[6];
    for (int side = 0; side < 2; side++) {
      double toward = side == 0 ? shift : -shift;
      for (int k = 0; k < 3; k++) {
        zones[3 * side + k] =
            NORMAL.probability(
                (k + widening) * spread - toward, (k + 1 + widening) * spread - toward);
      }
    }
    double neutral =
        widening == 0
            ? 0
            : NORMAL.probability(-widening * spread - shift, widening * spread - shift);
    double[] now = new double[STATES];
    double[] next = new double[STATES];
    now[NEUTRAL] = 1;
    double silent = 1;
    double kept = 1;
    int steps = Math.min(sentinels, SETTLED);
    for (int n = 0; n < steps; n++) {
      Arrays.fill(next, 0);
      double sum = 0;
      for (int state = 0; state < STATES; state++) {
        if (now[state] == 0) {
          continue;
        }
        next[NEUTRAL] += now[state] * neutral;
        for (int zone = 0; zone < 6; zone++) {
          int after = after(state, zone / 3, zone % 3);
          if (after >= 0) {
            next[after] += now[state] * zones[zone];
          }
        }
      }
      for (double p : next) {
        sum += p;
      }
      kept = silent == 0 ? 0 : sum / silent;
      silent = sum;
      to[n] += weight * silent;
      double[] swap = now;
      now = next;
      next = swap;
    }
    to[steps] += weight * silent * Math.pow(kept, (double) sentinels - steps);
  }

  /** The state after a sentinel in a zone of a side; −1 for an alarm. */
  private static int after(int state, int side, int zone) {
    boolean far = zone == 2;
    int run = 1;
    int beyond = zone >= 1 ? 1 : 0;
    if (state != NEUTRAL) {
      boolean farBefore = state % 2 == 1;
      if (far && farBefore) {
        return -1;
      }
      int before = state / 8;
      if (before / LONGEST == side) {
        run = before % LONGEST + 2;
        beyond = zone >= 1 ? state / 2 % 4 + 1 : 0;
      }
    }
    if (run > LONGEST || beyond > 3) {
      return -1;
    }
    return ((side * LONGEST + run - 1) * 4 + beyond) * 2 + (far ? 1 : 0);
  }
}
