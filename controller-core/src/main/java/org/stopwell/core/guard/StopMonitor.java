package org.stopwell.core.guard;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.core.trace.StateHash;

/**
 * A second opinion on the raw signal. It shares nothing with the sense of the controller but the
 * wires: no filter, no curve at run time, no trust; two raw samples in a row beyond a threshold of
 * its own, and it says stop. It can do nothing else.
 *
 * <p>The threshold of a stage is the raw signal that belongs to a place {@code monitor_mm} deeper
 * than the standoff; it is worked out once. It cannot judge a signal that only a sensing policy
 * from outside can read, and then says nothing. Ratios are compared as squares, |Zh|² ≤ t²·|Zl|².
 */
public final class StopMonitor {
  private static final double MILLIONTHS = 1e6;
  private static final int AGREEING_SAMPLES = 2;

  private final String policy;
  private final int lowHz;
  private final int highHz;
  private final double[] threshold = new double[Stage.values().length];
  private final boolean[] armed = new boolean[Stage.values().length];

  private long sequence = Long.MIN_VALUE;
  private int agreeing;
  private long disagreements;

  /**
   * A monitor with a threshold for every stage that stops at a standoff.
   *
   * @param settings checked settings
   */
  public StopMonitor(ControllerSettings settings) {
    ParameterValues sense = settings.section("sense");
    policy = sense.choice(SenseParameters.POLICY);
    lowHz = sense.getInt(SenseParameters.LOW);
    highHz = sense.getInt(SenseParameters.HIGH);
    // an estimate over the whole approach has no single raw value that stands for a place
    boolean readable = settings.hasBuiltInSensing() && !policy.equals(SenseParameters.APPROACH);
    int margin = settings.section("guard").getInt(GuardParameters.MONITOR_MARGIN);
    for (Stage stage : Stage.values()) {
      if (readable && settings.has(stage) && stopsAtStandoff(settings.stage(stage))) {
        int microns = settings.stage(stage).getInt(StageParameters.STANDOFF) - margin;
        armed[stage.code()] = true;
        threshold[stage.code()] =
            policy.equals(SenseParameters.LOCATOR)
                ? microns
                : rawAt(settings.calibration(), microns);
      }
    }
  }

  private static boolean stopsAtStandoff(ParameterValues stage) {
    return !stage.choice(StageParameters.APICAL).equals(StageParameters.NONE);
  }

  /** The feature of a place, held at the deep end of the curve. */
  private static double rawAt(Calibration curve, int microns) {
    Calibration.Point before = curve.points().get(0);
    for (Calibration.Point point : curve.points()) {
      if (point.remainingMicrons() > microns) {
        double span = point.remainingMicrons() - before.remainingMicrons();
        double share = span > 0 ? (microns - before.remainingMicrons()) / span : 0;
        return before.feature() + share * (point.feature() - before.feature());
      }
      before = point;
    }
    return before.feature();
  }

  /**
   * One step.
   *
   * @param in a plausible input
   * @param stage the stage at work
   */
  public void update(ControllerInput in, Stage stage) {
    if (in.positionKind == PositionKind.ABSENT || in.sampleSequence == sequence) {
      return;
    }
    sequence = in.sampleSequence;
    boolean beyond = armed[stage.code()] && isBeyond(in, threshold[stage.code()]);
    agreeing = beyond ? Math.min(AGREEING_SAMPLES, agreeing + 1) : 0;
  }

  private boolean isBeyond(ControllerInput in, double limit) {
    if (policy.equals(SenseParameters.LOCATOR)) {
      return in.positionKind == PositionKind.DISTANCE && in.distanceMicrons <= limit;
    }
    double low = square(in, lowHz);
    if (policy.equals(SenseParameters.RESISTANCE)) {
      return low >= 0 && low <= limit * limit;
    }
    double high = square(in, highHz);
    double ratio = limit / MILLIONTHS;
    return low >= 0 && high >= 0 && high <= ratio * ratio * low;
  }

  private static double square(ControllerInput in, int hz) {
    for (int i = 0; i < in.frequencyCount; i++) {
      if (in.frequencyHz[i] == hz) {
        double re = in.zRealMilliOhms[i];
        double im = in.zImagMilliOhms[i];
        return re * re + im * im;
      }
    }
    return -1;
  }

  /**
   * Asks for a stop when the raw signal says so.
   *
   * @param driving whether the file is driven towards the foramen
   * @param arbiter holds what the rest of the controller has asked for in this step
   */
  public void ask(boolean driving, Arbiter arbiter) {
    if (driving && agreeing >= AGREEING_SAMPLES) {
      if (arbiter.reaction().compareTo(Reaction.BACK_OUT) < 0) {
        disagreements++;
      }
      arbiter.ask(Reaction.HOLD, Reason.MONITOR_STOP);
    }
  }

  /**
   * How often the monitor had to stop what the rest of the controller would have let go on.
   *
   * @return a count from 0
   */
  public long disagreements() {
    return disagreements;
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    long h = StateHash.mix(hash, sequence);
    h = StateHash.mix(h, agreeing);
    return StateHash.mix(h, disagreements);
  }

  /**
   * Folds in the mode: the state without the numbers that only grow.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixMode(long hash) {
    return StateHash.mix(hash, agreeing);
  }
}
