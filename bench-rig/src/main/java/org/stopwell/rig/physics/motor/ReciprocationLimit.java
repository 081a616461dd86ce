package org.stopwell.rig.physics.motor;

/**
 * How fast the motor of the virtual bench may reciprocate a file and still keep every stroke of the
 * file within {@link #WITHIN_DEGREES} of what is set. Computed from the motor model: play of the
 * gear of 0 to 5°, strokes back of 15 to 160° and forward to 330°, free and loaded;
 * docs/research/reciprocation.md has the table. A control step of 1 ms alone is 6 · rpm / 1000
 * degrees; the play is lost whole at every reversal. Measure a physical motor.
 */
public final class ReciprocationLimit {
  /** What a stroke may miss, degrees either way. */
  public static final int WITHIN_DEGREES = 2;

  /** What counts as a short stroke back, degrees. */
  public static final int SHORT_DEGREES = 40;

  /** With more play than this no speed of the sweep holds every stroke, degrees. */
  public static final double MOST_PLAY_DEGREES = 1.5;

  /** Up to this play the speeds are the higher ones, degrees. */
  private static final double SMALL_PLAY_DEGREES = 1;

  private ReciprocationLimit() {}

  /**
   * The limit for one stroke.
   *
   * @param backwardDegrees stroke backward, degrees
   * @param playDegrees play of the gear, at the file, degrees
   * @return the highest speed at the file that holds the strokes, rpm; 0 when none does
   */
  public static int rpm(double backwardDegrees, double playDegrees) {
    boolean shortStroke = backwardDegrees <= SHORT_DEGREES;
    if (playDegrees <= SMALL_PLAY_DEGREES) {
      return shortStroke ? 500 : 375;
    }
    return playDegrees <= MOST_PLAY_DEGREES ? shortStroke ? 375 : 250 : 0;
  }
}
