package org.stopwell.harness.trial;

import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;

/** The expectation of a condition. */
public enum Expectation {
  /** The file comes to rest at the standoff. */
  STOP("expected to stop"),
  /**
   * The controller reports that its reading is not valid, and never claims a position that it does
   * not have.
   */
  REFUSE("expected to refuse"),
  /** The file comes to rest at a standoff that lies past the foramen on purpose. */
  PATENCY("expected to stop past the foramen"),
  /** The file comes to rest at the depth limit of its stage, by the axis. */
  DEPTH_LIMIT("expected to rest at the depth limit"),
  /**
   * The controller stops at the standoff or refuses: it never goes past the foramen, and a stop
   * lies within the tolerance.
   */
  STOP_OR_REFUSE("expected to stop or to refuse"),
  /**
   * Nothing: the condition is shown beside the others. Its trials are judged as those of {@link
   * #STOP_OR_REFUSE}, and neither claims nor the verdict of the campaign count them.
   */
  COMPARE("shown for comparison"),
  /**
   * Nothing: the motor rests, the file is carried past the foramen, and the approach is recorded,
   * to teach weights with it.
   */
  SURVEY("approach recorded");

  /** No file goes further past the foramen, µm. */
  private static final int DEEPEST_MICRONS = -6_000;

  private final String text;

  Expectation(String text) {
    this.text = text;
  }

  /**
   * What is expected.
   *
   * @return a few plain words
   */
  public String text() {
    return text;
  }

  /**
   * Whether the file is expected to come to rest at the standoff, so that it has a stop error.
   *
   * @return true wherever the standoff lies
   */
  public boolean stops() {
    return this == STOP || this == PATENCY;
  }

  /**
   * Whether the file is expected to come to rest at one place, the standoff or the depth limit.
   *
   * @return true where a trial has a stop error
   */
  public boolean rests() {
    return stops() || this == DEPTH_LIMIT;
  }

  /**
   * Whether a stop is as expected, and a refusal too.
   *
   * @return true where the controller may do either
   */
  public boolean mayRefuse() {
    return this == STOP_OR_REFUSE || this == COMPARE;
  }

  /**
   * Below which remaining distance a trial is an over-travel: the foramen, or the far edge of a
   * band that lies past the foramen on purpose.
   *
   * @param standoffMicrons target distance short of the foramen, µm
   * @param toleranceMicrons half width of the band around it, µm
   * @return remaining distance, µm; never above 0
   */
  public int overTravelBelowMicrons(int standoffMicrons, int toleranceMicrons) {
    return switch (this) {
      case PATENCY -> Math.min(0, standoffMicrons - toleranceMicrons);
      case SURVEY -> DEEPEST_MICRONS;
      default -> 0;
    };
  }

  /**
   * The words for all of them in plans.
   *
   * @return in order, the first of them the usual one
   */
  public static List<String> keys() {
    return Stream.of(values()).map(e -> e.name().toLowerCase(Locale.ROOT)).toList();
  }
}
