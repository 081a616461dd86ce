package org.stopwell.rig.pi;

import org.stopwell.rig.pi.QuadratureDecoder.Step;

/**
 * Speed from a counter that is looked at now and then: steps over the time between the newest step
 * of this look and that of some looks ago, so that few steps to a turn still give a fine speed.
 * When no step comes, the speed is at most that of a step which would come now.
 */
final class SpeedMeter {
  private static final int LOOKS = 16;

  /** Without a step for this long the shaft is at rest (assumed), ns. */
  private static final long STANDSTILL_NS = 100_000_000;

  private static final double MILLI_RPM_PER_TURN_PER_NS = 60_000.0 * 1e9;

  private final int stepsPerTurn;
  private final Step[] held = new Step[LOOKS];
  private int looks;
  private double speed;

  SpeedMeter(int stepsPerTurn) {
    this.stepsPerTurn = stepsPerTurn;
  }

  void restart() {
    looks = 0;
    speed = 0;
  }

  /** Speed, milli-rpm; 0 until two steps were seen. */
  int look(Step newest, long nowNs) {
    Step oldest = looks < LOOKS ? (looks == 0 ? newest : held[0]) : held[looks % LOOKS];
    held[looks % LOOKS] = newest;
    looks = looks + 1 == 2 * LOOKS ? LOOKS : looks + 1;
    long quietNs = nowNs - newest.atNs();
    if (newest.atNs() > oldest.atNs()) {
      speed = speed(newest.steps() - oldest.steps(), newest.atNs() - oldest.atNs());
    }
    if (quietNs > STANDSTILL_NS) {
      speed = 0;
    }
    double most = quietNs > 0 ? speed(1, quietNs) : Double.MAX_VALUE;
    return (int) Math.round(Math.max(-most, Math.min(most, speed)));
  }

  private double speed(long steps, long ns) {
    return (double) steps / stepsPerTurn / ns * MILLI_RPM_PER_TURN_PER_NS;
  }
}
