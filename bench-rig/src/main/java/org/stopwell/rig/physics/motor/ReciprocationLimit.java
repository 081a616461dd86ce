package org.stopwell.rig.physics.motor;

/**
 * How fast the motor of the virtual bench may reciprocate a file and still keep every stroke of the
 * file within {@link #WITHIN_DEGREES} of what is set. Computed from the motor model with a gear of
 * 1° of play, strokes back of 15 to 160° and forward to 330°, free and loaded; a control step of 1
 * ms alone is 6 · rpm / 1000 degrees, and the play takes its share. A motor of matter is measured.
 */
public final class ReciprocationLimit {
  /** What a stroke may miss, degrees either way. */
  public static final int WITHIN_DEGREES = 2;

  /** Every stroke of the sweep holds up to this speed at the file, rpm. */
  public static final int ANY_STROKE_RPM = 375;

  /** Strokes back of at most {@link #SHORT_DEGREES} hold up to this speed at the file, rpm. */
  public static final int SHORT_STROKE_RPM = 500;

  /** What counts as a short stroke back, degrees. */
  public static final int SHORT_DEGREES = 40;

  private ReciprocationLimit() {}

  /**
   * The limit for one stroke.
   *
   * @param backwardDegrees stroke backward, degrees
   * @return the highest speed at the file that holds the strokes, rpm
   */
  public static int rpm(double backwardDegrees) {
    return backwardDegrees <= SHORT_DEGREES ? SHORT_STROKE_RPM : ANY_STROKE_RPM;
  }
}
