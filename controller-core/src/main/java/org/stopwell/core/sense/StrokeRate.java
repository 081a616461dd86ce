package org.stopwell.core.sense;

import org.stopwell.core.trace.StateHash;

/** How fast a hand goes up and down, from the times between its turns. */
final class StrokeRate {
  /** Until a stroke was seen: once a second, rad/s; assumed. */
  private static final double USUAL = 2 * Math.PI;

  /** Strokes are taken to last 1/3 to 3 s, rad/s; assumed: slower is feed, faster is shaking. */
  private static final double SLOWEST = USUAL / 3;

  private static final double FASTEST = USUAL * 3;

  /** From turn to turn a stroke is longer than this, µm; assumed: three times the most tremor. */
  private static final double LEAST_SWING = 150;

  /** Share of the newest half stroke in the rate; assumed. */
  private static final double SHARE = 0.5;

  private double radiansPerSecond = USUAL;
  private double sinceTurn;
  private double turnedAt;
  private boolean outwards;
  private boolean turned;

  /** Forgets the last turn, and keeps the rate. */
  void start() {
    sinceTurn = 0;
    turnedAt = 0;
    turned = false;
  }

  /**
   * Time passes.
   *
   * @param dt time, s
   * @param place of the file from the middle of its stroke, µm
   * @param change of the place, in any unit
   */
  void update(double dt, double place, double change) {
    boolean turns = outwards != change > 0;
    outwards = change > 0;
    if (turns && Math.abs(place - turnedAt) >= LEAST_SWING) {
      if (turned) {
        double seen = Math.max(SLOWEST, Math.min(FASTEST, Math.PI / sinceTurn));
        radiansPerSecond += SHARE * (seen - radiansPerSecond);
      }
      turned = true;
      turnedAt = place;
      sinceTurn = 0;
    }
    sinceTurn += dt;
  }

  double radiansPerSecond() {
    return radiansPerSecond;
  }

  long mixInto(long hash) {
    long h = StateHash.mix(hash, radiansPerSecond);
    h = StateHash.mix(h, sinceTurn);
    h = StateHash.mix(h, turnedAt);
    return StateHash.mix(StateHash.mix(h, outwards), turned);
  }
}
