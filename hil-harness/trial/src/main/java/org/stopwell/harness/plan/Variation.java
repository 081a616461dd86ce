package org.stopwell.harness.plan;

import java.util.List;
import org.stopwell.core.settings.Parameter;
import org.stopwell.rig.random.RandomStream;

/**
 * A value of the scene that is drawn anew for every trial.
 *
 * @param section section of the scene
 * @param parameter the value drawn
 * @param shape how it is spread
 * @param low least value, base units
 * @param high greatest value, base units
 * @param mean centre of a bell, base units; unused for {@link Shape#EVEN}
 * @param sd standard deviation of a bell, base units; unused for {@link Shape#EVEN}
 * @param line where it stands in the plan
 */
record Variation(
    String section,
    Parameter parameter,
    Shape shape,
    long low,
    long high,
    long mean,
    long sd,
    int line) {

  /**
   * Standard deviations at which a normal distribution is cut, so that a plan can be checked
   * beforehand.
   */
  static final int CUT = 3;

  /** How a value is spread. */
  enum Shape {
    /** Every value from low to high is as likely as any other. */
    EVEN,
    /** A normal distribution cut at {@link #CUT} standard deviations. */
    BELL
  }

  String name() {
    return section + "." + parameter.key();
  }

  /** The least and the greatest value, as people write them. */
  List<String> ends() {
    return List.of(parameter.human(low), parameter.human(high));
  }

  /** A value for one trial, as people write it. */
  String draw(RandomStream stream) {
    if (shape == Shape.EVEN) {
      double steps = (double) (high - low) + 1;
      long value = low + (long) StrictMath.floor(stream.nextDouble() * steps);
      return parameter.human(Math.min(value, high));
    }
    while (true) {
      long value = StrictMath.round(mean + sd * stream.nextGaussian());
      if (value >= low && value <= high) {
        return parameter.human(value);
      }
    }
  }
}
