package org.stopwell.core.motion;

import org.stopwell.core.trace.StateHash;

/**
 * Strokes forward and backward with a net advance. The turning points lie on a fixed grid, so that
 * an error of one stroke is not carried into the next. A motor runs on after the command to turn
 * round; how long is learned from every stroke, and the command comes that much earlier. Commands
 * come in steps: over the last of them the file is slowed by so much that the turn falls on one.
 */
public final class Reciprocation {
  private static final double NS_PER_S = 1e9;

  /** One milli-rpm is six millidegrees per second. */
  private static final double MILLI_DEGREES_PER_S_PER_MILLI_RPM = 6;

  /** Share of a turning point's error that corrects the next one of its kind; assumed. */
  private static final double LEARNING = 0.5;

  /** Steps before the turn over which the speed is trimmed; assumed. */
  private static final int TRIMMED_STEPS = 12;

  /** Trimming leaves at least this share of the speed; assumed. */
  private static final double LEAST_SHARE = 0.85;

  private static final double START_LEAD_S = 0.004;
  private static final double LONGEST_LEAD_S = 0.1;

  private final double forwardMilliDegrees;
  private final double backwardMilliDegrees;

  private final double[] leadS = {START_LEAD_S, START_LEAD_S};
  private double angle;
  private double target;
  private boolean forward = true;
  private boolean runningOut;
  private double speedAtCommand;
  private int stepsLeft = TRIMMED_STEPS + 1;
  private double trimmed = Double.POSITIVE_INFINITY;

  /**
   * At rest, about to go forward.
   *
   * @param forwardMilliDegrees forward stroke, millidegrees
   * @param backwardMilliDegrees backward stroke, millidegrees
   */
  public Reciprocation(long forwardMilliDegrees, long backwardMilliDegrees) {
    this.forwardMilliDegrees = forwardMilliDegrees;
    this.backwardMilliDegrees = backwardMilliDegrees;
    target = forwardMilliDegrees;
  }

  /** Restarts with a forward stroke from here; learned values stay. */
  public void begin() {
    angle = 0;
    target = forwardMilliDegrees;
    forward = true;
    runningOut = false;
    untrim();
  }

  private void untrim() {
    stepsLeft = TRIMMED_STEPS + 1;
    trimmed = Double.POSITIVE_INFINITY;
  }

  /**
   * One step.
   *
   * @param dtNs time since the step before, ns
   * @param speedMilliRpm measured speed, positive forward, milli-rpm
   */
  public void update(long dtNs, int speedMilliRpm) {
    double dt = dtNs / NS_PER_S;
    double speed = speedMilliRpm * MILLI_DEGREES_PER_S_PER_MILLI_RPM;
    angle += speed * dt;
    double towards = forward ? speed : -speed;
    if (runningOut) {
      if (towards < 0) {
        return;
      }
      learn();
    }
    double left = forward ? target - angle : angle - target;
    double ahead = left - towards * leadS[forward ? 0 : 1];
    double steps = ahead / (towards * dt);
    if (towards > 0 && steps <= 0.5) {
      turnRound(towards);
    } else if (towards > 0 && steps <= TRIMMED_STEPS) {
      trim(steps, towards);
    }
  }

  /** Slows the file by so much that whole steps lead to the turn, and ever fewer of them. */
  private void trim(double steps, double speed) {
    stepsLeft = (int) Math.min(stepsLeft - 1, Math.ceil(steps));
    double share = steps / Math.max(1, stepsLeft);
    trimmed = stepsLeft < 1 ? Double.POSITIVE_INFINITY : speed * Math.max(LEAST_SHARE, share);
  }

  private void turnRound(double speed) {
    forward = !forward;
    runningOut = true;
    speedAtCommand = speed;
    untrim();
  }

  /** The file has just reached its reversal: distance from the grid */
  private void learn() {
    runningOut = false;
    int stroke = forward ? 1 : 0;
    double beyond = forward ? target - angle : angle - target;
    double lead = leadS[stroke] + LEARNING * beyond / speedAtCommand;
    leadS[stroke] = Math.max(0, Math.min(LONGEST_LEAD_S, lead));
    target += forward ? forwardMilliDegrees : -backwardMilliDegrees;
  }

  /**
   * The direction to command.
   *
   * @return true for forward
   */
  public boolean forward() {
    return forward;
  }

  /**
   * The speed to command, so that the turn falls on a step.
   *
   * @param milliRpm the speed of the stroke, milli-rpm
   * @return that, or somewhat less, milli-rpm
   */
  public int trimmed(int milliRpm) {
    return (int) Math.min(milliRpm, trimmed / MILLI_DEGREES_PER_S_PER_MILLI_RPM);
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    long h = StateHash.mix(hash, angle);
    h = StateHash.mix(h, target);
    h = StateHash.mix(h, forward);
    h = StateHash.mix(h, runningOut);
    h = StateHash.mix(h, speedAtCommand);
    h = StateHash.mix(h, stepsLeft);
    h = StateHash.mix(h, trimmed);
    return StateHash.mix(StateHash.mix(h, leadS[0]), leadS[1]);
  }
}
