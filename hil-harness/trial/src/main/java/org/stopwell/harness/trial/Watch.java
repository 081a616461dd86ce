package org.stopwell.harness.trial;

import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.FileCondition;
import org.stopwell.rig.bench.HandMotion;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Truth;

/** Observes a running trial, collects the data for the verdict, and detects its end. */
final class Watch {
  /** Length of the interval over which rest is judged, ns; assumed: several periods of tremor. */
  private static final long STRETCH_NS = 500_000_000;

  /** Feed between two intervals that still counts as rest, µm; assumed. */
  private static final int FEED_MICRONS = 3;

  /**
   * How far drift and tremor of a hand move the mean of an interval from one to the next, over
   * their root mean square: 1.19 by the two rates of the drift, 0.17 by the tremor.
   */
  private static final double DRIFT_PER_RMS = 1.4;

  /** Speed that still counts as a motor at rest, milli-rpm; assumed. */
  private static final int REST_MILLI_RPM = 1_000;

  /** Withdrawal after a decision from which the stop can no longer be measured, µm; assumed. */
  private static final int DRAWN_OUT_MICRONS = 2_000;

  /** Number of intervals at rest without a decision after which the trial ends; assumed. */
  private static final int SETTLED_STRETCHES = 4;

  /** A file that has advanced by less than this in {@link #STUCK_NS} is stuck, µm; assumed. */
  private static final int ADVANCE_MICRONS = 100;

  /** So long must it have been stuck at the time limit, ns; assumed: longer than a hand pauses. */
  private static final long STUCK_NS = 10_000_000_000L;

  /**
   * Torque is averaged over this long, ns; assumed: the time in which the controller reacts
   * (guard.torque_ms) and the inertia of the motor is spent.
   */
  static final long TORQUE_BLOCK_NS = 50_000_000;

  /** How a trial ended. */
  enum End {
    NOT_YET,
    STOPPED,
    AT_LIMIT,
    BROKEN,
    SETTLED,
    DRAWN_OUT,
    STOP_LINE,
    TIME_LIMIT
  }

  private final TrialSpec spec;
  private final double restMicrons;

  final RigSigns rig = new RigSigns();

  End end = End.NOT_YET;
  long steps;
  long nowNs;
  int deepestMicrons = Integer.MAX_VALUE;
  boolean turned;
  int worstFalseSureMicrons;

  boolean decided;
  int decisions;
  long decidedNs;
  int decidedReadingMicrons;
  int decidedBoundMicrons;

  Trust decidedTrust = Trust.NONE;
  Cause decidedCause = Cause.NO_CAUSE;
  int restingMicrons;

  FileCondition file = FileCondition.WHOLE;
  int brokenAtMicrons;
  int torqueMicroNewtonMetres;

  boolean depthMeasured;
  int deepestByAxisMicrons;
  int restingDepthMicrons;

  /** Greatest torque at the file, mean over {@link #TORQUE_BLOCK_NS}, µN·m. */
  int greatestTorqueMicroNewtonMetres;

  private long torqueBlockEndNs;
  private long sumTorque;
  private int torqueSamples;
  int torqueReactions;
  private int advancedToMicrons;
  private long advancedNs;

  private boolean limited;
  private long sumDepthMicrons;
  private boolean stopLine;
  private int deepestSinceMicrons;
  private State before = State.PARKED;
  private long stretchEndNs = STRETCH_NS;
  private long sumMicrons;
  private int samples;
  private boolean motorMoved;
  private double lastMeanMicrons = Double.NaN;
  private int stretchesAtRest;

  Watch(TrialSpec spec) {
    this.spec = spec;
    ParameterValues hand = spec.scene().section("hand");
    boolean trembles = HandSection.motion(hand) != HandMotion.STAGE;
    restMicrons = FEED_MICRONS + (trembles ? DRIFT_PER_RMS * hand.get(HandSection.TREMOR) : 0);
  }

  /** Whether the file has turned for long without getting deeper. */
  boolean isStuck() {
    return turned && stuckNs() >= STUCK_NS;
  }

  /** For how long it has not got deeper, ns. */
  long stuckNs() {
    return nowNs - advancedNs;
  }

  /** Whether the step just looked at is the one that decided to stop. */
  boolean decides() {
    return decided && decidedNs == nowNs;
  }

  /** Looks at one step. */
  void look(long nowNs, ControllerInput in, ControllerOutput out, Truth truth) {
    this.nowNs = nowNs;
    steps++;
    rig.look(nowNs, in, out, truth);
    if (truth.file != FileCondition.WHOLE) {
      file = truth.file;
      torqueMicroNewtonMetres = Math.abs(truth.torqueMicroNewtonMetres);
      end = End.BROKEN;
      return;
    }
    brokenAtMicrons = truth.remainingMicrons;
    deepestMicrons = Math.min(deepestMicrons, truth.remainingMicrons);
    turned |= out.drive.turns();
    stopLine |= truth.stopLine;
    if (out.drive.turns() && out.trust == Trust.SURE && out.readingPresent) {
      worstFalseSureMicrons =
          Math.max(worstFalseSureMicrons, Math.abs(out.remainingMicrons - truth.remainingMicrons));
    }
    if (out.state != before) {
      change(nowNs, out);
      before = out.state;
    }
    if (out.state == State.TURNING || out.state == State.EASING) {
      decided = false; // it goes on: only the stop at which it stays counts
      limited = false;
    }
    depthMeasured = in.insertionPresent;
    deepestByAxisMicrons =
        Math.max(deepestByAxisMicrons, in.insertionPresent ? in.insertionMicrons : 0);
    if (deepestByAxisMicrons >= advancedToMicrons + ADVANCE_MICRONS) {
      advancedToMicrons = deepestByAxisMicrons;
      advancedNs = nowNs;
    }
    lookAtTorque(Math.abs(truth.torqueMicroNewtonMetres));
    sumDepthMicrons += in.insertionMicrons;
    sumMicrons += truth.remainingMicrons;
    samples++;
    motorMoved |= Math.abs(truth.speedMilliRpm) > REST_MILLI_RPM || out.drive.turns();
    if (nowNs >= stretchEndNs) {
      endStretch();
    }
    boolean held = decided || limited;
    deepestSinceMicrons =
        held ? Math.min(deepestSinceMicrons, truth.remainingMicrons) : Integer.MAX_VALUE;
    if (held && truth.remainingMicrons - deepestSinceMicrons > DRAWN_OUT_MICRONS) {
      end = End.DRAWN_OUT;
    }
    if (end == End.NOT_YET && nowNs >= spec.timeLimitNs()) {
      end = End.TIME_LIMIT;
    }
  }

  private void lookAtTorque(int microNewtonMetres) {
    sumTorque += microNewtonMetres;
    torqueSamples++;
    if (nowNs >= torqueBlockEndNs) {
      greatestTorqueMicroNewtonMetres =
          Math.max(greatestTorqueMicroNewtonMetres, (int) (sumTorque / torqueSamples));
      sumTorque = 0;
      torqueSamples = 0;
      torqueBlockEndNs = nowNs + TORQUE_BLOCK_NS;
    }
  }

  private void change(long nowNs, ControllerOutput out) {
    boolean atStandoff = out.reason == Reason.STANDOFF_REACHED || out.reason == Reason.PAST_FORAMEN;
    if (!decided && atStandoff && (out.state == State.HOLDING || out.state == State.BACKING)) {
      decided = true;
      decisions++;
      decidedNs = nowNs;
      decidedReadingMicrons = out.readingPresent ? out.remainingMicrons : 0;
      decidedBoundMicrons = out.readingPresent ? out.boundMicrons : 0;
      decidedTrust = out.trust;
      decidedCause = out.cause;
    }
    if (out.reason == Reason.TORQUE_LIMIT
        && (out.state == State.BACKING || out.state == State.ROCKING)) {
      torqueReactions++;
    }
    limited |=
        spec.expectation() == Expectation.DEPTH_LIMIT
            && out.state == State.HOLDING
            && out.reason == Reason.DEPTH_LIMIT;
  }

  private void endStretch() {
    double mean = (double) sumMicrons / samples;
    boolean rest = !motorMoved && Math.abs(mean - lastMeanMicrons) <= restMicrons;
    stretchesAtRest = rest ? stretchesAtRest + 1 : 0;
    restingMicrons = (int) StrictMath.round(mean);
    restingDepthMicrons = (int) StrictMath.round((double) sumDepthMicrons / samples);
    if (rest && stopLine) {
      end = End.STOP_LINE;
    } else if (rest && decided) {
      end = End.STOPPED;
    } else if (rest && limited) {
      end = End.AT_LIMIT;
    } else if (stretchesAtRest >= SETTLED_STRETCHES) {
      end = End.SETTLED;
    }
    lastMeanMicrons = mean;
    sumMicrons = 0;
    sumDepthMicrons = 0;
    samples = 0;
    motorMoved = false;
    stretchEndNs += STRETCH_NS;
  }
}
