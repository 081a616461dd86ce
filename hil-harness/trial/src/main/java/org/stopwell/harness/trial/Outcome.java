package org.stopwell.harness.trial;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.OptionalLong;

/** What an exploration asks of every trial, as one whole number. */
public enum Outcome {
  /** Remaining distance at standstill minus standoff, µm; none where nothing stopped. */
  STOP_ERROR("µm", "stop error"),
  /** 1 where the file was past the foramen at any moment, else 0. */
  OVER_TRAVEL("", "over-travel"),
  /** 1 where the file stopped early, else 0: {@value #EARLY} */
  EARLY_STOP("", "early stop"),
  /** 1 where the controller refused its reading and did not stop at the standoff, else 0. */
  REFUSAL("", "refusal"),
  /** Bench time of the whole trial, ms. */
  TIME("ms", "time"),
  /** 1 where a reading of trust {@code SURE} was wrong by more than the tolerance, else 0. */
  FALSELY_SURE("", "sure and wrong");

  /** What an early stop is, for pages and help. */
  public static final String EARLY =
      "Early stop: the file stops more than tolerance_mm before the standoff (set distance short of the"
          + " foramen) that its settings state; verdict EARLY.";

  private final String unit;
  private final String words;

  Outcome(String unit, String words) {
    this.unit = unit;
    this.words = words;
  }

  /**
   * The unit of its number.
   *
   * @return empty for a share, whose number is 0 or 1
   */
  public String unit() {
    return unit;
  }

  /**
   * Its name for people.
   *
   * @return one or a few words
   */
  public String words() {
    return words;
  }

  /**
   * Whether its number is 0 or 1, so that its mean is a share.
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
    return Arrays.stream(values()).map(o -> o.name().toLowerCase(Locale.ROOT)).toList();
  }

  /**
   * The outcome of a trial.
   *
   * @param spec what was to be done
   * @param trial its result
   * @return empty where the trial does not have this outcome: after a rig fault, and the stop error
   *     of a trial without a stop
   */
  public OptionalLong of(TrialSpec spec, TrialResult trial) {
    if (trial.verdict() == Verdict.RIG_FAULT) {
      return OptionalLong.empty();
    }
    return switch (this) {
      case STOP_ERROR ->
          trial.stopped() ? OptionalLong.of(trial.stopErrorMicrons()) : OptionalLong.empty();
      case OVER_TRAVEL -> flag(isOverTravel(spec, trial));
      case EARLY_STOP -> flag(isEarly(spec, trial));
      case REFUSAL -> flag(trial.refused());
      case TIME -> OptionalLong.of(millis(trial));
      case FALSELY_SURE -> flag(isFalselySure(spec, trial));
    };
  }

  /**
   * How bad a trial is in the sense of this outcome, so that the worst can be kept.
   *
   * @param spec what was to be done
   * @param trial its result
   * @return above 0 for a bad one: µm off or past the foramen, ms, or 1
   */
  public long badness(TrialSpec spec, TrialResult trial) {
    OptionalLong value = of(spec, trial);
    if (value.isEmpty() || value.getAsLong() == 0) {
      return 0;
    }
    return switch (this) {
      case STOP_ERROR, EARLY_STOP -> Math.abs(trial.stopErrorMicrons());
      case FALSELY_SURE -> Math.max(1, Math.abs(trial.stopErrorMicrons()));
      case OVER_TRAVEL -> Math.max(1, -trial.deepestMicrons());
      case REFUSAL -> 1;
      case TIME -> value.getAsLong();
    };
  }

  /**
   * Whether the file was past the foramen.
   *
   * @param spec what was to be done
   * @param trial its result
   * @return true below the distance that the expectation permits
   */
  public static boolean isOverTravel(TrialSpec spec, TrialResult trial) {
    return trial.deepestMicrons() < spec.overTravelBelowMicrons();
  }

  /**
   * Whether the file stopped early: {@value #EARLY}
   *
   * @param spec what was to be done
   * @param trial its result
   * @return true for an early stop
   */
  public static boolean isEarly(TrialSpec spec, TrialResult trial) {
    return trial.stopped() && trial.stopErrorMicrons() > spec.toleranceMicrons();
  }

  private static boolean isFalselySure(TrialSpec spec, TrialResult trial) {
    return trial.code().equals("FALSELY_SURE")
        || (trial.sureAtStop() && Math.abs(trial.stopErrorMicrons()) > spec.toleranceMicrons());
  }

  /**
   * Bench time of a trial.
   *
   * @param trial its result
   * @return ms
   */
  public static long millis(TrialResult trial) {
    return trial.durationNs() / 1_000_000;
  }

  private static OptionalLong flag(boolean is) {
    return OptionalLong.of(is ? 1 : 0);
  }
}
