package org.stopwell.rig.fault;

import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;

/**
 * Any bench, with the faults of a plan. What a fault does to the motor really happens to the motor
 * behind it, so the truth stays the truth; what it does to a reading is done to the reading alone.
 * Its description says that it has faults, so that no record can be taken for a sound one.
 */
public final class FaultyBench implements Bench {
  private final Bench bench;
  private final FaultPlan plan;
  private final ControllerOutput command = new ControllerOutput();
  private final ControllerOutput lastTurning = new ControllerOutput();
  private final ControllerInput delivered = new ControllerInput();
  private final Truth truth = new Truth();
  private SignalFaults signal;
  private long deliveredNs;

  /**
   * Puts faults on a bench.
   *
   * @param bench a sound bench
   * @param plan what goes wrong
   */
  public FaultyBench(Bench bench, FaultPlan plan) {
    this.bench = bench;
    this.plan = plan;
    this.signal = new SignalFaults(plan.seed());
  }

  @Override
  public BenchDescription describe() {
    BenchDescription sound = bench.describe();
    return new BenchDescription(
        sound.kind() + " with faults",
        sound.serialNumber(),
        sound.firmware(),
        sound.simulated(),
        sound.lockstep(),
        sound.periodNs());
  }

  @Override
  public void open() throws BenchException {
    bench.open();
  }

  @Override
  public void mount(Scene scene) throws BenchException {
    bench.mount(scene);
    signal = new SignalFaults(plan.seed());
    lastTurning.clear();
    deliveredNs = 0;
    truth.copyFrom(bench.truth());
  }

  @Override
  public void exchange(long nowNs, ControllerOutput order, ControllerInput reading)
      throws BenchException {
    command.copyFrom(order);
    for (Injection fault : plan.injections()) {
      if (fault.holdsAt(nowNs)) {
        failLink(fault, nowNs);
        changeCommand(fault.kind());
      }
    }
    if (command.drive.turns()) {
      lastTurning.copyFrom(command);
    }
    bench.exchange(nowNs, command, reading);
    truth.copyFrom(bench.truth());
    if (plan.injections().stream().noneMatch(f -> freezes(f, nowNs))) {
      signal.remember(reading);
    }
    boolean old = false;
    for (Injection fault : plan.injections()) {
      if (fault.holdsAt(nowNs)) {
        old |= fault.kind() == FaultKind.OLD_READINGS;
        changeReading(fault, reading);
      }
    }
    if (old) {
      reading.copyFrom(delivered);
      reading.linkAgeNs = nowNs - deliveredNs;
    } else {
      delivered.copyFrom(reading);
      deliveredNs = nowNs;
    }
  }

  private static boolean freezes(Injection fault, long nowNs) {
    return fault.holdsAt(nowNs)
        && (fault.kind() == FaultKind.FROZEN_SIGNAL || fault.kind() == FaultKind.SAMPLES_STOP);
  }

  private void failLink(Injection fault, long nowNs) throws BenchException {
    @Nullable RigFault code =
        switch (fault.kind()) {
          case PORT_GONE -> RigFault.PORT_GONE;
          case NO_ANSWER -> RigFault.NO_ANSWER;
          case SESSION_LOST -> RigFault.SESSION_LOST;
          case BAD_FRAMES -> RigFault.BAD_FRAMES;
          default -> null;
        };
    if (code != null) {
      bench.safeStop(); // the board is alone now, and takes the power by itself
      throw new BenchException(code, "injected at " + nowNs + " ns: " + fault.kind().text());
    }
  }

  private void changeCommand(FaultKind kind) {
    switch (kind) {
      case RUNS_ON -> {
        if (!command.drive.turns() && lastTurning.drive.turns()) {
          command.copyFrom(lastTurning);
        }
      }
      case REVERSED -> command.drive = reversed(command.drive);
      case DEAD_MOTOR, STOP_PRESSED -> command.drive = Drive.OFF;
      default -> {}
    }
  }

  private static Drive reversed(Drive drive) {
    return switch (drive) {
      case FORWARD -> Drive.BACKWARD;
      case BACKWARD -> Drive.FORWARD;
      default -> drive;
    };
  }

  private void changeReading(Injection fault, ControllerInput reading) {
    switch (fault.kind()) {
      case SPEED_LOST -> reading.speedMilliRpm = 0;
      case LOW_SUPPLY -> reading.supplyMilliVolts = (int) Math.rint(fault.strength() * 1000);
      case STOP_PRESSED -> {
        reading.stopLine = true;
        truth.stopLine = true;
      }
      default -> signal.change(fault, reading);
    }
  }

  @Override
  public Truth truth() {
    return truth;
  }

  @Override
  public void safeStop() {
    bench.safeStop();
  }

  @Override
  public void close() {
    bench.close();
  }
}
