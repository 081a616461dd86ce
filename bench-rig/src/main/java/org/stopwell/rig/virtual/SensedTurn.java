package org.stopwell.rig.virtual;

/**
 * Which way the file turns, from each sample of its angle, as the device board senses it ({@code
 * turn.c}). It begins to turn when it has gone 1.05° in 4 ms (44 rpm) and has stopped when it went
 * less than 0.35° in 1.5 ms (39 rpm), or back. All assumed.
 */
final class SensedTurn {
  private static final int LONG = 8;
  private static final int SHORT = 3;

  /** One step of the angle chip, m°. */
  private static final double STEP = 360_000.0 / 4096;

  private static final double BEGINS = 12 * STEP;
  private static final double ENDS = 4 * STEP;

  private final double[] turned = new double[LONG];
  private double last = Double.NaN;
  private int at;
  private int way;

  /** One sample, m°; not wrapped. */
  void sample(double milliDegrees) {
    turned[at++ % LONG] = Double.isNaN(last) ? 0 : milliDegrees - last;
    last = milliDegrees;
    double now = sum(SHORT);
    double lately = sum(LONG);
    if (way * now < ENDS) {
      way = 0;
    }
    if (way == 0 && Math.abs(lately) >= BEGINS && now * Math.signum(lately) >= ENDS) {
      way = (int) Math.signum(lately);
    }
  }

  private double sum(int samples) {
    double sum = 0;
    for (int k = 1; k <= samples; k++) {
      sum += turned[Math.floorMod(at - k, LONG)];
    }
    return sum;
  }

  /** 1 in the cutting direction, -1 against it, 0 at rest. */
  int way() {
    return way;
  }
}
