package org.stopwell.core.motion;

import org.stopwell.core.trace.StateHash;

/**
 * Learns from the stops themselves how long the file still travels after the decision to stop:
 * travel over speed, to where the file rests a while after the decision, or to the deepest place
 * when it was already drawn out by then.
 */
public final class CoastLearner {
  /** How long after the decision the file may still go deeper, ns; assumed. */
  private static final long WINDOW_NS = 600_000_000L;

  /** A slower approach teaches nothing, µm/s; assumed. */
  private static final double SLOWEST = 100;

  /** This far above the deepest place a file has been drawn out, µm; assumed. */
  private static final double WITHDRAWN_MICRONS = 150;

  private static final long LONGEST_NS = 1_000_000_000L;

  /** Weight of the newest stop in the learned value; assumed. */
  private static final int SHARE = 3;

  private static final double NS_PER_S = 1e9;

  private long coastNs;
  private boolean watching;
  private long watchedNs;
  private double speed;
  private double decidedAt;
  private double deepest;

  /**
   * With a first guess.
   *
   * @param coastNs time from the decision to rest, ns
   */
  public CoastLearner(long coastNs) {
    this.coastNs = coastNs;
  }

  /**
   * A stop was decided.
   *
   * @param remainingMicrons remaining distance at the decision, µm
   * @param closingMicronsPerSecond mean speed towards the foramen that was foreseen for it, µm/s
   */
  public void decide(double remainingMicrons, double closingMicronsPerSecond) {
    watching = closingMicronsPerSecond >= SLOWEST;
    watchedNs = 0;
    speed = closingMicronsPerSecond;
    decidedAt = remainingMicrons;
    deepest = remainingMicrons;
  }

  /**
   * Whether a stop is watched; otherwise a step teaches nothing.
   *
   * @return true from a decision until the file has rested for long enough
   */
  public boolean watching() {
    return watching;
  }

  /**
   * One step.
   *
   * @param dtNs time since the step before, ns
   * @param sure whether the distance is trusted; an untrusted stop is not learned from
   * @param remainingMicrons remaining distance, µm
   */
  public void update(long dtNs, boolean sure, double remainingMicrons) {
    if (!watching) {
      return;
    }
    watching = sure;
    deepest = Math.min(deepest, remainingMicrons);
    watchedNs += dtNs;
    if (watching && watchedNs >= WINDOW_NS) {
      watching = false;
      boolean withdrawn = remainingMicrons > deepest + WITHDRAWN_MICRONS;
      double rest = withdrawn ? deepest : remainingMicrons;
      long seenNs = (long) (Math.max(0, decidedAt - rest) / speed * NS_PER_S);
      coastNs += (Math.min(LONGEST_NS, seenNs) - coastNs) / SHARE;
    }
  }

  /**
   * What is known now.
   *
   * @return time from the decision to rest, ns
   */
  public long coastNs() {
    return coastNs;
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    long h = StateHash.mix(hash, coastNs, watching);
    if (!watching) {
      return h;
    }
    h = StateHash.mix(h, watchedNs);
    h = StateHash.mix(h, speed);
    h = StateHash.mix(h, decidedAt);
    return StateHash.mix(h, deepest);
  }
}
