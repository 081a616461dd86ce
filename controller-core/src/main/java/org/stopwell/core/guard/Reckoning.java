package org.stopwell.core.guard;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.PlaceCurve;
import org.stopwell.core.trace.StateHash;

/**
 * Where the tip must be by a quantity that the decision does not use. A sound reading well before
 * the standoff is the reference; from there on the reading counts no more:
 *
 * <ul>
 *   <li>the depth axis gives the travel since then: beyond is x₀ − t ≤ s − m − t/10;
 *   <li>the magnitude at the lower frequency gives the fall of its curve since then, in two samples
 *       in a row: beyond is |Z|² ≤ |Z₀|²·(L(s − m)/L(x₀))².
 * </ul>
 *
 * <p>x₀ and |Z₀| are place and magnitude of the reference, t is the travel since, s the standoff, m
 * the margin and L the calibrated magnitude. The factor |Z₀|/L(x₀) is that of the canal itself: its
 * fluid and its body path.
 *
 * <p>The first reference is taken within 1.5 mm of the standoff: farther out a canal unlike the
 * calibrated one reads millimetres too near. It is renewed each time the reading has come 0.25 mm
 * nearer, down to 0.5 mm before the standoff. A frozen reading therefore keeps the reference where
 * it is. The axis counts from the second reference on: a tip that touches the fluid reads near for
 * a moment, and then nothing follows.
 */
final class Reckoning {
  /** Share of the travel that the axis may err by, such as in a file that bends; assumed. */
  private static final double TRAVEL_ERROR = 0.1;

  /** No first reference nearer to the standoff than a start is allowed, µm; assumed. */
  private static final int LEAST_FIRST_MICRONS = 300;

  /** No first reference farther from the standoff, µm; assumed. */
  private static final int MOST_FIRST_MICRONS = 1_500;

  /** No later reference nearer to the standoff: a wrong reading must not set it, µm; assumed. */
  private static final int LEAST_LATER_MICRONS = 500;

  /** A later reference is so much nearer to the foramen, µm; assumed. */
  private static final int NEARER_MICRONS = 250;

  private static final int AGREEING = 2;

  private final int standoffMicrons;
  private final int marginMicrons;
  private final PlaceCurve lows;
  private final double lowAtLimit;

  private boolean taken;
  private double placeMicrons;
  private boolean axis;
  private int insertionMicrons;
  private double limitSquare;
  private int deepSteps;
  private int lowSamples;

  /**
   * A reckoning without a reference.
   *
   * @param standoffMicrons the standoff, µm
   * @param marginMicrons how far beyond it the tip may seem to be, µm
   * @param curve a curve with usable magnitudes; {@link Calibration#NONE} for the axis alone
   */
  Reckoning(int standoffMicrons, int marginMicrons, Calibration curve) {
    this.standoffMicrons = standoffMicrons;
    this.marginMicrons = marginMicrons;
    lows = curve.lows();
    lowAtLimit = lows.at(standoffMicrons - marginMicrons);
  }

  /**
   * Whether the magnitude can identify a place beyond the standoff. Past the foramen it cannot:
   * most of it is the body path there, which canals do not share.
   */
  static boolean watchesMagnitude(Calibration curve, int standoffMicrons, int marginMicrons) {
    double low = curve.lowAt(standoffMicrons - marginMicrons);
    return standoffMicrons >= 0 && low > 0 && low < curve.lowAt(standoffMicrons);
  }

  /** Forgets the reference, at a start. */
  void forget() {
    taken = false;
    axis = false;
    deepSteps = 0;
    lowSamples = 0;
  }

  /** Takes a reference from a sound reading, if it is one. */
  void refer(double remainingMicrons, ControllerInput in, double lowSquare) {
    double ahead = remainingMicrons - standoffMicrons;
    boolean worth =
        taken
            ? ahead >= LEAST_LATER_MICRONS && remainingMicrons <= placeMicrons - NEARER_MICRONS
            : ahead >= LEAST_FIRST_MICRONS && ahead <= MOST_FIRST_MICRONS;
    if (!worth) {
      return;
    }
    axis = taken && in.insertionPresent;
    taken = true;
    placeMicrons = remainingMicrons;
    insertionMicrons = axis ? in.insertionMicrons : 0;
    double low = lows.at(remainingMicrons);
    double share = low > 0 ? lowAtLimit / low : 0;
    limitSquare = lowSquare > 0 ? share * share * lowSquare : 0;
  }

  /** Judges the axis: one step. */
  void travel(ControllerInput in) {
    double travel = (double) in.insertionMicrons - insertionMicrons;
    double least = placeMicrons - travel * (1 - TRAVEL_ERROR);
    boolean beyond = axis && in.insertionPresent && least <= standoffMicrons - marginMicrons;
    deepSteps = beyond ? Math.min(AGREEING, deepSteps + 1) : 0;
  }

  /** Judges the magnitude: one sample. */
  void magnitude(double lowSquare) {
    boolean beyond = taken && lowSquare > 0 && lowSquare <= limitSquare;
    lowSamples = beyond ? Math.min(AGREEING, lowSamples + 1) : 0;
  }

  boolean isBeyond() {
    return deepSteps >= AGREEING || lowSamples >= AGREEING;
  }

  long mixInto(long hash) {
    long h = StateHash.mix(mixMode(hash), placeMicrons);
    h = StateHash.mix(h, insertionMicrons, axis);
    return StateHash.mix(h, limitSquare);
  }

  long mixMode(long hash) {
    return StateHash.mix(hash, deepSteps << 8 | lowSamples, taken);
  }
}
