package org.stopwell.core.state;

import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.guard.Budget;
import org.stopwell.core.motion.Reciprocation;
import org.stopwell.core.motion.SpeedRamp;
import org.stopwell.core.sense.PositionSense;
import org.stopwell.core.trace.StateHash;

/** From the state to drive and speed: soft start, easing, strokes. */
final class Motion {
  /** Below this the file counts as at rest, milli-rpm; assumed. */
  private static final int STANDSTILL_MILLI_RPM = 2_000;

  /** How long a load must last before motion by load answers to it, ns; assumed. */
  private static final long LOAD_BUDGET_NS = 50_000_000L;

  private final SpeedRamp ramp = new SpeedRamp();
  private final Budget load = new Budget(LOAD_BUDGET_NS);
  private Drive drive = Drive.OFF;
  private boolean stroking;
  private int speedMilliRpm;

  /** Takes in what the motor did; true when motion by load has changed its mind. */
  boolean measure(
      long dtNs, int along, int torque, State state, StageSetup setup, Reciprocation strokes) {
    boolean driving = state.drives();
    boolean loaded = load.tripped();
    long threshold = setup.loadMicroNewtonMetres / (loaded ? 2 : 1);
    load.update(dtNs, driving && Math.abs((long) torque) >= threshold);
    boolean strokesNow = driving && (setup.reciprocates || (setup.strokesByLoad && load.tripped()));
    boolean changed = setup.strokesByLoad && driving && load.tripped() != loaded;
    if (strokesNow && !stroking) {
      strokes.begin();
    }
    stroking = strokesNow;
    if (stroking) {
      strokes.update(dtNs, along);
    }
    return changed;
  }

  void command(
      long nowNs,
      long dtNs,
      int along,
      boolean swingingForward,
      State state,
      StageSetup setup,
      PositionSense sense,
      double easeMicrons,
      Reciprocation strokes) {
    boolean driving = state.drives();
    Drive before = drive;
    drive =
        switch (state) {
          case TURNING, EASING -> stroking && !strokes.forward() ? setup.back : setup.ahead;
          case BACKING -> setup.back;
          case ROCKING -> swingingForward ? setup.ahead : setup.back;
          case HOLDING, LOCKED -> setup.rest;
          case PARKED -> Math.abs(along) >= STANDSTILL_MILLI_RPM ? setup.rest : Drive.OFF;
        };
    // A stroke turns round at full speed; every other change of direction starts softly.
    if (drive != before && !(stroking && driving && before.turns())) {
      ramp.rest();
    }
    if (drive.turns()) {
      ramp.update(
          dtNs, target(nowNs, state, setup, sense, easeMicrons), setup.rampMilliRpmPerSecond);
    }
    int asked = drive.turns() ? ramp.speedMilliRpm() : 0;
    speedMilliRpm = stroking ? strokes.trimmed(asked) : asked;
  }

  private static int target(
      long nowNs, State state, StageSetup setup, PositionSense sense, double easeMicrons) {
    if (state == State.TURNING) {
      return setup.speedMilliRpm;
    }
    // not sound(): only a place within the tolerance may grade the speed
    if (state != State.EASING || !sense.placed() || sense.trust() != Trust.SURE) {
      return setup.easeSpeedMilliRpm;
    }
    double above = sense.remainingMicrons(nowNs) - setup.standoffMicrons;
    double share = Math.max(0, Math.min(above / Math.max(1, easeMicrons), 1));
    return setup.easeSpeedMilliRpm
        + (int) (share * (setup.speedMilliRpm - setup.easeSpeedMilliRpm));
  }

  Drive drive() {
    return drive;
  }

  int speedMilliRpm() {
    return speedMilliRpm;
  }

  /** Whether motion by load reciprocates. */
  boolean loaded() {
    return load.tripped();
  }

  long mixInto(long hash) {
    long h = StateHash.mix(hash, drive.code(), stroking);
    return ramp.mixInto(load.mixInto(h));
  }

  long mixMode(long hash) {
    return StateHash.mix(hash, (load.tripped() ? 1 : 0) | (stroking ? 2 : 0));
  }
}
