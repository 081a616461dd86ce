package org.stopwell.harness.plan;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * What settings are tuned for: limits that hold, and what is made small within them.
 *
 * @param limits at least one; each on a measure of its own
 * @param minimise what is made small; no limit is on it
 * @param freshCanals canals of the judgement, none of which the search meets
 */
public record TuneTarget(List<Limit> limits, Measure minimise, int freshCanals) {

  /** What a target can name. */
  public enum Measure {
    /** Share of trials past the foramen at any moment. */
    OVER_TRAVEL("", "over-travel"),
    /** Share of trials that stop early: {@value org.stopwell.harness.trial.Outcome#EARLY} */
    EARLY_STOP("", "early stops"),
    /** Share of trials that refuse. */
    REFUSAL("", "refusals"),
    /** Mean bench time of a trial, s. */
    TIME("s", "time"),
    /** Standard deviation of the stop error of the trials that stop, mm. */
    STOP_ERROR_SPREAD("mm", "spread of the stop error");

    private final String unit;
    private final String words;

    Measure(String unit, String words) {
      this.unit = unit;
      this.words = words;
    }

    /**
     * Its word in files.
     *
     * @return such as {@code early_stop}
     */
    public String key() {
      return name().toLowerCase(Locale.ROOT);
    }

    /**
     * Its unit.
     *
     * @return empty for a share
     */
    public String unit() {
      return unit;
    }

    /**
     * Its name for people.
     *
     * @return a few words
     */
    public String words() {
      return words;
    }

    /**
     * Whether it is a share of the trials.
     *
     * @return true where there is no unit
     */
    public boolean isShare() {
      return unit.isEmpty();
    }

    /**
     * The words for all of them in files.
     *
     * @return in order
     */
    public static List<String> keys() {
      return Arrays.stream(values()).map(Measure::key).toList();
    }
  }

  /**
   * A limit.
   *
   * @param measure what is limited
   * @param atMost the greatest value permitted: a share, s or mm
   * @param line where it stands in the file
   */
  public record Limit(Measure measure, double atMost, int line) {}

  /** Takes a copy. */
  public TuneTarget {
    limits = List.copyOf(limits);
  }

  /**
   * The same target judged on another number of canals.
   *
   * @param canals canals of the judgement
   * @return the changed target
   */
  public TuneTarget on(int canals) {
    return new TuneTarget(limits, minimise, canals);
  }
}
