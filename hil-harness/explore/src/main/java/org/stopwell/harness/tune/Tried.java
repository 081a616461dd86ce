package org.stopwell.harness.tune;

import java.util.List;
import java.util.Locale;

/**
 * A point of the settings that the search tried on the tuning canals.
 *
 * @param number its number, from 1
 * @param phase which part of the search tried it
 * @param settings its settings, base units
 * @param texts its settings as people write them
 * @param measured what it gave
 * @param excess how far it is above the aim, the sum over the limits, each as a part of the limit;
 *     0 where it meets the target on the tuning canals
 * @param goal what is made small: a share, s or mm
 * @param used how much of the limits it uses: the sum of value over limit; it decides between equal
 *     goals
 */
public record Tried(
    int number,
    Phase phase,
    List<Long> settings,
    List<String> texts,
    Measured measured,
    double excess,
    double goal,
    double used) {

  /** The parts of a search. */
  public enum Phase {
    /** The present settings. */
    OLD,
    /** Points spread evenly over the ranges. */
    SPREAD,
    /** Points of the evolution, which begins at the best so far. */
    EVOLUTION;

    /**
     * Its word in files.
     *
     * @return lower case
     */
    public String key() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /** Above every value of a goal: a point that breaks a limit is worse than any that keeps all. */
  private static final double BREAKS = 1e6;

  /** Above every excess of a point that can be measured. */
  private static final double NOT_MEASURABLE = 1e12;

  /** Copies the lists. */
  public Tried {
    settings = List.copyOf(settings);
    texts = List.copyOf(texts);
  }

  /**
   * Whether it meets the aim on the tuning canals.
   *
   * @return true when no limit is exceeded
   */
  public boolean meets() {
    return excess == 0 && !Double.isNaN(goal);
  }

  /**
   * The number that the search makes small. Points that keep all limits are ordered by the goal,
   * the others by their excess and behind them (Deb, Comput Methods Appl Mech Eng 2000;186:311).
   */
  double score() {
    if (Double.isNaN(goal) || Double.isInfinite(excess)) {
      return NOT_MEASURABLE;
    }
    return excess > 0 ? BREAKS + excess : goal;
  }
}
