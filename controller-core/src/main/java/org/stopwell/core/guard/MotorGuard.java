package org.stopwell.core.guard;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.trace.StateHash;

/** Whether the motor follows the command, and whether it can. */
public final class MotorGuard {
  /** Below this the file counts as at rest, milli-rpm; assumed. */
  private static final int STANDS_MILLI_RPM = 5_000;

  /** Faster than this a file turns, milli-rpm; assumed. */
  private static final int TURNS_MILLI_RPM = 20_000;

  /** Share of the full heat at which a motor that was too hot may turn again; assumed. */
  private static final double COOL = 0.8;

  private final Budget wrongDirection;
  private final Budget stall;
  private final Budget runaway;
  private final Budget overspeed;
  private final Budget supply;
  private final double overspeedShare;
  private final double runOutPerNs;
  private final long supplyMilliVolts;
  private final double continuousMilliAmps;
  private final double heatNs;

  private Drive commanded = Drive.OFF;
  private int commandedMilliRpm;

  /** Greatest speed that a sound motor can have now: the command plus the remaining run-out. */
  private double expectedMilliRpm;

  private double fallFromMilliRpm;
  private double heat;
  private boolean hot;

  /**
   * A guard of a cold motor.
   *
   * @param guard checked values of the section {@code guard}
   */
  public MotorGuard(ParameterValues guard) {
    wrongDirection = new Budget(guard.get(GuardParameters.WRONG_DIRECTION));
    stall = new Budget(guard.get(GuardParameters.STALL));
    runaway = new Budget(guard.get(GuardParameters.RUNAWAY));
    overspeed = new Budget(guard.get(GuardParameters.OVERSPEED));
    overspeedShare = guard.get(GuardParameters.OVERSPEED_SHARE) * 1e-2;
    runOutPerNs = 1.0 / Math.max(1, guard.get(GuardParameters.RUNAWAY));
    supply = new Budget(guard.get(GuardParameters.SUPPLY_BUDGET));
    supplyMilliVolts = guard.get(GuardParameters.SUPPLY);
    continuousMilliAmps = guard.get(GuardParameters.CONTINUOUS_CURRENT);
    heatNs = guard.get(GuardParameters.HEAT_TIME);
  }

  /**
   * Notes the command to the motor.
   *
   * @param drive the drive
   * @param speedMilliRpm the speed, milli-rpm
   */
  public void commanded(Drive drive, int speedMilliRpm) {
    if (drive != commanded) {
      wrongDirection.refill();
      stall.refill();
      if (!drive.turns()) {
        overspeed.refill();
      }
      if (drive.turns() || commanded.turns()) {
        runaway.refill();
      }
    }
    commanded = drive;
    commandedMilliRpm = speedMilliRpm;
  }

  /**
   * One step.
   *
   * @param dtNs time since the step before, ns
   * @param in a plausible input
   * @param arbiter asked when something is wrong
   */
  public void update(long dtNs, ControllerInput in, Arbiter arbiter) {
    int along = commanded == Drive.BACKWARD ? -in.speedMilliRpm : in.speedMilliRpm;
    boolean told = commanded.turns() && commandedMilliRpm >= TURNS_MILLI_RPM;
    boolean turns = Math.abs(in.speedMilliRpm) >= TURNS_MILLI_RPM;
    boolean stands = Math.abs(in.speedMilliRpm) < STANDS_MILLI_RPM;
    if (wrongDirection.update(dtNs, told && along <= -TURNS_MILLI_RPM)) {
      arbiter.ask(Reaction.LOCK, Reason.WRONG_DIRECTION);
    }
    if (stall.update(dtNs, told && stands)) {
      arbiter.ask(Reaction.LOCK, Reason.STALLED);
    }
    if (runaway.update(dtNs, !commanded.turns() && turns)) {
      arbiter.ask(Reaction.LOCK, Reason.RUNAWAY);
    }
    expect(dtNs);
    if (overspeed.update(dtNs, commanded.turns() && isTooFast(in.speedMilliRpm))) {
      arbiter.ask(Reaction.LOCK, Reason.OVERSPEED);
    }
    boolean low =
        supplyMilliVolts > 0 && in.supplyMilliVolts > 0 && in.supplyMilliVolts < supplyMilliVolts;
    if (supply.update(dtNs, low)) {
      arbiter.ask(Reaction.HOLD, Reason.SUPPLY_LOW);
    }
    warm(dtNs, in.currentMilliAmps);
    if (hot) {
      arbiter.ask(Reaction.HOLD, Reason.OVERHEATED);
    }
  }

  /**
   * After a command to slow down, the motor gets the time of a command to rest: what is expected of
   * it falls in a straight line that ends after {@code runaway_ms} at 0, and at the command before
   * that.
   */
  private void expect(long dtNs) {
    double told = commanded.turns() ? commandedMilliRpm : 0;
    if (expectedMilliRpm == told) {
      return;
    }
    expectedMilliRpm -= fallFromMilliRpm * dtNs * runOutPerNs;
    if (!(expectedMilliRpm > told)) {
      expectedMilliRpm = told;
      fallFromMilliRpm = told;
    }
  }

  /** Either way round: strokes turn round at full speed, and a motor follows late. */
  private boolean isTooFast(int speedMilliRpm) {
    return Math.abs(speedMilliRpm) > expectedMilliRpm * overspeedShare + TURNS_MILLI_RPM;
  }

  /**
   * I²t as a first-order model: dh/dt = ((I/Ic)² − h)/τ, where h = 1 is the heat that the motor
   * tolerates forever at the current Ic.
   */
  private void warm(long dtNs, int milliAmps) {
    if (!(continuousMilliAmps > 0)) {
      return;
    }
    double load = milliAmps / continuousMilliAmps;
    heat += (load * load - heat) * Math.min(1, dtNs / heatNs);
    hot = hot ? heat > COOL : heat >= 1;
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    long h = wrongDirection.mixInto(stall.mixInto(runaway.mixInto(supply.mixInto(hash))));
    h = StateHash.mix(overspeed.mixInto(h), expectedMilliRpm);
    h = StateHash.mix(h, fallFromMilliRpm);
    h = StateHash.mix(h, commanded.code());
    h = StateHash.mix(h, commandedMilliRpm, hot);
    return StateHash.mix(h, heat);
  }

  /**
   * Folds in the mode: the state without the numbers that only grow or shrink.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixMode(long hash) {
    int tripped = (wrongDirection.tripped() ? 1 : 0) | (stall.tripped() ? 2 : 0);
    tripped |= (runaway.tripped() ? 4 : 0) | (supply.tripped() ? 8 : 0);
    tripped |= overspeed.tripped() ? 16 : 0;
    long h = StateHash.mix(hash, tripped);
    return StateHash.mix(h, commanded.code() << 1 | (hot ? 1 : 0));
  }
}
