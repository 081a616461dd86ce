package org.stopwell.harness.external;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.HandMotion;
import org.stopwell.rig.bench.HandSection;

/** Detects the end of a trial while its samples come in. */
final class Rest {
  /** Length of the interval over which rest is judged, ns; assumed: several periods of tremor. */
  private static final long STRETCH_NS = 500_000_000;

  /** Way between two intervals that still counts as rest, µm; assumed. */
  private static final int REST_MICRONS = 3;

  /** How far a hand at rest moves the mean of an interval, over the root mean square: assumed. */
  private static final double DRIFT_PER_RMS = 1.4;

  /** Rest after a turn that ends a trial: a device may turn again by itself; assumed. */
  private static final int AFTER_TURNING = 5;

  /** Rest without a turn that ends a trial; assumed. */
  private static final int WITHOUT_TURNING = 5;

  /** A file that is drawn out by more after a turn ends the trial, µm; assumed. */
  private static final int DRAWN_OUT = 2_000;

  /** A file farther past the foramen ends the trial, µm; assumed. */
  private static final int PASSED = 2_500;

  /** Angle within an interval that is still rest, °: noise of the sensor; assumed. */
  private static final double TURNED = 3;

  private final WatchedTrack track;
  private final double foramen;
  private final double restMicrons;
  private int from;
  private int looked;
  private double lastMean = Double.NaN;
  private int stretches;
  private boolean turned;
  private boolean heard;
  private double deepest = Double.NEGATIVE_INFINITY;

  Rest(WatchedTrack track, double foramenMicrons, ParameterValues hand) {
    this.track = track;
    this.foramen = foramenMicrons;
    boolean trembles = HandSection.motion(hand) != HandMotion.STAGE;
    restMicrons = REST_MICRONS + (trembles ? DRIFT_PER_RMS * hand.get(HandSection.TREMOR) : 0);
  }

  /** Whether the trial has ended. */
  boolean ended() {
    int n = track.count();
    for (; looked < n; looked++) {
      deepest = Math.max(deepest, track.shank(looked));
      heard |= track.witnessed(looked);
    }
    if (n == 0) {
      return false;
    }
    double now = track.shank(n - 1);
    if (now > foramen + PASSED || (turned && now < deepest - DRAWN_OUT)) {
      return true;
    }
    if (track.ns(n - 1) - track.ns(from) < STRETCH_NS) {
      return false;
    }
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    double sum = 0;
    for (int i = from; i < n; i++) {
      least = Math.min(least, track.degrees(i));
      most = Math.max(most, track.degrees(i));
      sum += track.shank(i);
    }
    boolean turns = most - least > TURNED;
    turned |= turns;
    double mean = sum / (n - from);
    stretches = !turns && !heard && Math.abs(mean - lastMean) <= restMicrons ? stretches + 1 : 0;
    lastMean = mean;
    from = n - 1;
    heard = false;
    return stretches >= (turned ? AFTER_TURNING : WITHOUT_TURNING);
  }
}
