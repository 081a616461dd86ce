package org.stopwell.core.motion;

/**
 * Place of rest when the motor is stopped now: the remaining travel while the stop takes effect is
 * taken off, v·t (a file that is withdrawn gains nothing).
 */
public final class StopPredictor {
  /** No more than this is ever taken off, so that one wild speed cannot stop a far file, µm. */
  private static final double MOST_MICRONS = 1_000;

  private static final double NS_PER_S = 1e9;

  private StopPredictor() {}

  /**
   * Remaining distance at rest.
   *
   * @param remainingMicrons remaining distance now, µm
   * @param closingMicronsPerSecond mean speed towards the foramen until then, µm/s
   * @param reactionNs time from the decision to rest, ns
   * @return µm
   */
  public static double atRest(
      double remainingMicrons, double closingMicronsPerSecond, long reactionNs) {
    double travel = closingMicronsPerSecond * (reactionNs / NS_PER_S);
    return remainingMicrons - Math.max(0, Math.min(travel, MOST_MICRONS));
  }
}
