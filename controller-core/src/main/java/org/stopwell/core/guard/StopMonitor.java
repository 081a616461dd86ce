package org.stopwell.core.guard;

import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.SensingNeeds.Single;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.core.trace.StateHash;

/**
 * A second opinion on the stop, in two parts. Either can say stop and nothing else.
 *
 * <p>The raw signal of the decision is judged without its filter, its curve at run time and its
 * trust: two raw samples in a row beyond a threshold. The threshold of a stage is the raw signal
 * that belongs to a place {@code monitor_mm} deeper than the standoff; it is worked out once.
 * Ratios are compared as squares, |Zh|² ≤ t²·|Zl|². This part finds a fault of the filter. An
 * estimate over the whole approach and a policy from outside have no such threshold.
 *
 * <p>The independent part judges another quantity than the decision, and finds a signal that is
 * wrong and looks sound: the {@link Reckoning} by the depth axis under every policy, and by the
 * magnitude where the ratio decides. Where neither is there, there is no independent monitor.
 */
public final class StopMonitor {
  private static final double MILLIONTHS = 1e6;
  private static final int AGREEING_SAMPLES = 2;

  private final Single single;
  private final int lowHz;
  private final int highHz;
  private final double[] threshold = new double[Stage.values().length];
  private final boolean[] armed = new boolean[Stage.values().length];
  private final @Nullable Reckoning[] reckonings = new @Nullable Reckoning[Stage.values().length];

  private long sequence = Long.MIN_VALUE;
  private int agreeing;

  /** That of the stage at work. */
  private @Nullable Reckoning reckoning;

  private long disagreements;

  /**
   * A monitor with a threshold for every stage that stops at a standoff.
   *
   * @param settings checked settings
   */
  public StopMonitor(ControllerSettings settings) {
    ParameterValues sense = settings.section("sense");
    single = settings.sensing().single();
    lowHz = sense.getInt(SenseParameters.LOW);
    highHz = sense.getInt(SenseParameters.HIGH);
    int margin = settings.section("guard").getInt(GuardParameters.MONITOR_MARGIN);
    for (Stage stage : Stage.values()) {
      if (single != Single.NONE && settings.has(stage) && stopsAtStandoff(settings.stage(stage))) {
        int microns = settings.stage(stage).getInt(StageParameters.STANDOFF) - margin;
        armed[stage.code()] = true;
        threshold[stage.code()] =
            single == Single.DISTANCE ? microns : settings.calibration().featureAt(microns);
      }
      if (settings.has(stage) && stopsAtStandoff(settings.stage(stage))) {
        boolean magnitude = watchesMagnitude(settings, stage);
        reckonings[stage.code()] =
            new Reckoning(
                settings.stage(stage).getInt(StageParameters.STANDOFF),
                margin,
                magnitude ? settings.calibration() : Calibration.NONE);
      }
    }
  }

  /**
   * Whether the magnitude at the lower frequency watches the stop, which the ratio decides. Where
   * it does not, only a depth axis is an independent monitor.
   *
   * @param settings checked settings
   * @param stage a stage of the settings
   * @return true when it does
   */
  public static boolean watchesMagnitude(ControllerSettings settings, Stage stage) {
    ParameterValues values = settings.stage(stage);
    return stopsAtStandoff(values)
        && settings.sensing().single() == Single.RATIO
        && Reckoning.watchesMagnitude(
            settings.calibration(),
            values.getInt(StageParameters.STANDOFF),
            settings.section("guard").getInt(GuardParameters.MONITOR_MARGIN));
  }

  private static boolean stopsAtStandoff(ParameterValues stage) {
    return !stage.choice(StageParameters.APICAL).equals(StageParameters.NONE);
  }

  /** The motor starts: the independent part takes a new reference. */
  public void start() {
    for (int i = 0; i < reckonings.length; i++) {
      Reckoning each = reckonings[i];
      if (each != null) {
        each.forget();
      }
    }
  }

  /**
   * One step.
   *
   * @param in a plausible input
   * @param stage the stage at work
   * @param sound whether a place is known by a sound signal and the motor drives
   * @param remainingMicrons that place, positive short of the foramen, µm
   */
  public void update(ControllerInput in, Stage stage, boolean sound, double remainingMicrons) {
    boolean fresh = in.positionKind != PositionKind.ABSENT && in.sampleSequence != sequence;
    if (fresh) {
      sequence = in.sampleSequence;
      boolean beyond = armed[stage.code()] && isBeyond(in, threshold[stage.code()]);
      agreeing = beyond ? Math.min(AGREEING_SAMPLES, agreeing + 1) : 0;
    }
    reckoning = reckonings[stage.code()];
    if (reckoning != null) {
      reckoning.travel(in);
      if (fresh) {
        double low = square(in, lowHz);
        reckoning.magnitude(low);
        if (sound) {
          reckoning.refer(remainingMicrons, in, low);
        }
      }
    }
  }

  private boolean isBeyond(ControllerInput in, double limit) {
    double low = square(in, lowHz);
    return switch (single) {
      case DISTANCE -> in.positionKind == PositionKind.DISTANCE && in.distanceMicrons <= limit;
      case MAGNITUDE -> low >= 0 && low <= limit * limit;
      case RATIO -> {
        double high = square(in, highHz);
        double ratio = limit / MILLIONTHS;
        yield low >= 0 && high >= 0 && high <= ratio * ratio * low;
      }
      case NONE -> false;
    };
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
   * Asks for a stop when either part says so.
   *
   * @param driving whether the file is driven towards the foramen
   * @param arbiter holds what the rest of the controller has asked for in this step
   */
  public void ask(boolean driving, Arbiter arbiter) {
    boolean reckoned = reckoning != null && reckoning.isBeyond();
    if (driving && (agreeing >= AGREEING_SAMPLES || reckoned)) {
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
    h = StateHash.mix(h, disagreements);
    return reckoning != null ? reckoning.mixInto(h) : h;
  }

  /**
   * Folds in the mode: the state without the numbers that only grow.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixMode(long hash) {
    long h = StateHash.mix(hash, agreeing);
    return reckoning != null ? reckoning.mixMode(h) : h;
  }
}
