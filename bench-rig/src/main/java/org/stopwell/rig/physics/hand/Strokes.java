package org.stopwell.rig.physics.hand;

/** Strokes in and out at one even speed, about a middle, from which they go in first. */
final class Strokes {
  private final double half;
  private final double step;
  private double place;
  private double way = 1;

  /**
   * Strokes that have not begun.
   *
   * @param stroke from end to end, m; 0 is none
   * @param metresPerSecond speed, m/s
   * @param stepSeconds the step, s; in one step they go less far than a stroke
   */
  Strokes(double stroke, double metresPerSecond, double stepSeconds) {
    half = 0.5 * stroke;
    step = metresPerSecond * stepSeconds;
  }

  /** Goes one step further and returns how much further in the place is, m. */
  double change() {
    if (half == 0) {
      return 0;
    }
    double before = place;
    place += way * step;
    double over = way * place - half;
    if (over > 0) {
      place -= 2 * way * over;
      way = -way;
    }
    return place - before;
  }
}
