package org.stopwell.core.state;

import org.stopwell.core.frame.Drive;
import org.stopwell.core.guard.Reaction;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.StageParameters;

/** The settings of one stage as plain numbers, read once. */
final class StageSetup {
  final int speedMilliRpm;
  final int easeSpeedMilliRpm;
  final int torqueMicroNewtonMetres;
  final int standoffMicrons;
  final int easeMicrons;
  final double easeSeconds;
  final Reaction apical;
  final long reactionNs;
  final boolean learnsCoast;
  final Drive ahead;
  final Drive back;
  final boolean reciprocates;
  final boolean strokesByLoad;
  final long forwardMilliDegrees;
  final long backwardMilliDegrees;
  final long loadMicroNewtonMetres;
  final int toleranceMicrons;
  final Reaction onWide;
  final Reaction onDoubtful;
  final Reaction onNone;
  final int depthLimitMicrons;
  final int rearmMicrons;
  final long rearmNs;
  final Reaction onTorque;
  final long backOutMilliDegrees;
  final long backOutNs;
  final long rockMilliDegrees;
  final long rockNs;
  final int retries;
  final long retryClearNs;
  final long rampMilliRpmPerSecond;
  final Drive rest;

  StageSetup(ParameterValues values) {
    speedMilliRpm = values.getInt(StageParameters.SPEED);
    easeSpeedMilliRpm = values.getInt(StageParameters.EASE_SPEED);
    torqueMicroNewtonMetres = values.getInt(StageParameters.TORQUE);
    standoffMicrons = values.getInt(StageParameters.STANDOFF);
    easeMicrons = values.getInt(StageParameters.EASE);
    easeSeconds = values.get(StageParameters.EASE_TIME) * 1e-9;
    apical = reaction(values.choice(StageParameters.APICAL));
    reactionNs = values.get(StageParameters.REACTION);
    learnsCoast = values.flag(StageParameters.LEARN_COAST);
    String motion = values.choice(StageParameters.MOTION);
    boolean backward = motion.equals(StageParameters.BACKWARD);
    ahead = backward ? Drive.BACKWARD : Drive.FORWARD;
    back = backward ? Drive.FORWARD : Drive.BACKWARD;
    reciprocates = motion.equals(StageParameters.RECIPROCATE);
    strokesByLoad = motion.equals(StageParameters.BY_LOAD);
    forwardMilliDegrees = values.get(StageParameters.FORWARD_ANGLE);
    backwardMilliDegrees = values.get(StageParameters.BACKWARD_ANGLE);
    loadMicroNewtonMetres = torqueMicroNewtonMetres * values.get(StageParameters.LOAD_SHARE) / 100;
    toleranceMicrons = values.getInt(StageParameters.TOLERANCE);
    onWide = reaction(values.choice(StageParameters.ON_WIDE));
    onDoubtful = reaction(values.choice(StageParameters.ON_DOUBTFUL));
    onNone = reaction(values.choice(StageParameters.ON_NONE));
    depthLimitMicrons = values.getInt(StageParameters.DEPTH_LIMIT);
    rearmMicrons = values.getInt(StageParameters.REARM_DISTANCE);
    rearmNs = values.get(StageParameters.REARM_DWELL);
    onTorque = reaction(values.choice(StageParameters.ON_TORQUE));
    backOutMilliDegrees = values.get(StageParameters.BACK_OUT_ANGLE);
    backOutNs = values.get(StageParameters.BACK_OUT_TIME);
    rockMilliDegrees = values.get(StageParameters.ROCK_ANGLE);
    rockNs = values.get(StageParameters.ROCK_TIME);
    retries = values.getInt(StageParameters.RETRIES);
    retryClearNs = values.get(StageParameters.RETRY_CLEAR);
    rampMilliRpmPerSecond = values.get(StageParameters.RAMP);
    rest = values.choice(StageParameters.STOP_BY).equals("brake") ? Drive.BRAKE : Drive.OFF;
  }

  private static Reaction reaction(String word) {
    return switch (word) {
      case StageParameters.EASE_WORD -> Reaction.EASE;
      case StageParameters.HOLD -> Reaction.HOLD;
      case StageParameters.BACK_OUT -> Reaction.BACK_OUT;
      case StageParameters.ROCK -> Reaction.ROCK;
      default -> Reaction.NONE;
    };
  }

  /** Whether the standoff is obeyed. */
  boolean stopsAtStandoff() {
    return apical != Reaction.NONE;
  }

  /** A speed seen along the direction in which this stage drives. */
  int along(int speedMilliRpm) {
    return ahead == Drive.BACKWARD ? -speedMilliRpm : speedMilliRpm;
  }
}
