package org.stopwell.rig.fault;

import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.number.Elementary;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.time.Pace;

/**
 * Any bench, with the faults of a plan. What a fault does to the motor really happens to the motor
 * behind it, so the true distance stays exact; a fault of a reading changes the reading only. Its
 * description says that it has faults, so that no record can be taken for a sound one.
 */
public final class FaultyBench extends ForwardingBench {
  private static final String LABEL = " with faults";

  private final FaultPlan plan;
  private final ControllerOutput command = new ControllerOutput();
  private final ControllerOutput lastTurning = new ControllerOutput();
  private final ControllerInput delivered = new ControllerInput();
  private final Truth truth = new Truth();
  private SignalFaults signal;
  private RandomStream random;
  private long deliveredNs;
  private long firstTurnNs = Long.MAX_VALUE;
  private int standingMicrons;
  private boolean leapt;

  /**
   * Puts faults on a bench.
   *
   * @param bench a sound bench
   * @param plan what goes wrong
   */
  public FaultyBench(Bench bench, FaultPlan plan) {
    super(bench);
    this.plan = plan;
    this.signal = new SignalFaults(plan.seed());
    this.random = random();
  }

  private RandomStream random() {
    return RandomStream.of(plan.seed(), "lost readings and steps");
  }

  @Override
  public BenchDescription describe() {
    return labelled(bench.describe());
  }

  /**
   * The description of a bench, once faults are put on it.
   *
   * @param sound the bench's own
   * @return the same, labelled
   */
  public static BenchDescription labelled(BenchDescription sound) {
    return new BenchDescription(
        sound.kind() + LABEL,
        sound.serialNumber(),
        sound.firmware(),
        sound.simulated(),
        sound.lockstep(),
        sound.periodNs(),
        sound.setup());
  }

  /**
   * The kind of the bench behind the faults.
   *
   * @param kind a kind, labelled or not
   * @return the kind without the label
   */
  public static String soundKind(String kind) {
    return kind.endsWith(LABEL) ? kind.substring(0, kind.length() - LABEL.length()) : kind;
  }

  /**
   * A time line on which the host stalls by the plan.
   *
   * @param sound the time line without faults
   * @return the time line of a trial on this bench
   */
  public Pace pace(Pace sound) {
    return new StallingPace(sound, plan, bench.describe().lockstep(), () -> firstTurnNs);
  }

  /**
   * When a fault of the plan began in the trial that is mounted.
   *
   * @param fault one of its faults
   * @return time since the mount, ns; the greatest long when it did not
   */
  public long onsetNs(Injection fault) {
    return fault.onsetNs(firstTurnNs);
  }

  @Override
  public boolean altersReadings() {
    return bench.altersReadings()
        || plan.injections().stream().anyMatch(f -> f.kind().part() == FaultKind.Part.SIGNAL);
  }

  @Override
  public void mount(Scene scene) throws BenchException {
    signal = new SignalFaults(plan.seed());
    random = random();
    lastTurning.clear();
    deliveredNs = 0;
    firstTurnNs = Long.MAX_VALUE;
    if (plan.injections().stream().anyMatch(f -> f.kind() == FaultKind.MOUNT_REFUSED)) {
      throw new BenchException(
          RigFault.REFUSED, "Injected at the mount: " + FaultKind.MOUNT_REFUSED.text());
    }
    bench.mount(scene);
    truth.copyFrom(bench.truth());
    standingMicrons = truth.remainingMicrons;
    leapt = false;
  }

  @Override
  public void exchange(long nowNs, ControllerOutput order, ControllerInput reading)
      throws BenchException {
    command.copyFrom(order);
    if (order.drive.turns()) {
      firstTurnNs = Math.min(firstTurnNs, nowNs);
    }
    for (Injection fault : plan.injections()) {
      if (fault.holdsAt(nowNs, firstTurnNs)) {
        failLink(fault, nowNs);
        changeCommand(fault);
      }
    }
    if (command.drive.turns()) {
      lastTurning.copyFrom(command);
    }
    bench.exchange(nowNs, command, reading);
    truth.copyFrom(bench.truth());
    if (plan.injections().stream()
        .noneMatch(f -> f.kind() == FaultKind.BAD_TRUTH && f.holdsAt(nowNs, firstTurnNs))) {
      standingMicrons = truth.remainingMicrons;
    }
    if (plan.injections().stream().noneMatch(f -> freezes(f, nowNs))) {
      signal.remember(reading);
    }
    boolean old = false;
    for (Injection fault : plan.injections()) {
      if (fault.holdsAt(nowNs, firstTurnNs)) {
        old |= isLost(fault);
        changeReading(fault, nowNs, order, reading);
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

  private boolean isLost(Injection fault) {
    return fault.kind() == FaultKind.OLD_READINGS
        || (fault.kind() == FaultKind.LOST_READINGS && random.nextDouble() < fault.strength());
  }

  private boolean freezes(Injection fault, long nowNs) {
    return fault.holdsAt(nowNs, firstTurnNs)
        && (fault.kind() == FaultKind.FROZEN_SIGNAL
            || fault.kind() == FaultKind.FROZEN_CHANNEL
            || fault.kind() == FaultKind.SAMPLES_STOP);
  }

  private void failLink(Injection fault, long nowNs) throws BenchException {
    @Nullable RigFault code =
        switch (fault.kind()) {
          case PORT_GONE -> RigFault.PORT_GONE;
          case NO_ANSWER -> RigFault.NO_ANSWER;
          case SESSION_LOST -> RigFault.SESSION_LOST;
          case BAD_FRAMES -> RigFault.BAD_FRAMES;
          case WATCHDOG -> RigFault.WATCHDOG;
          default -> null;
        };
    if (code != null) {
      bench.safeStop(); // the board is alone now and cuts the power by itself
      throw new BenchException(
          code,
          String.format(Locale.ROOT, "Injected at %.3f s: %s", nowNs * 1e-9, fault.kind().text()));
    }
  }

  private void changeCommand(Injection fault) {
    switch (fault.kind()) {
      case RUNS_ON -> {
        if (!command.drive.turns() && lastTurning.drive.turns()) {
          command.copyFrom(lastTurning);
        }
      }
      case OVERSPEED ->
          command.speedMilliRpm = (int) Elementary.rint(command.speedMilliRpm * fault.strength());
      case REVERSED -> command.drive = reversed(command.drive);
      case DEAD_MOTOR, STOP_PRESSED, JAM -> command.drive = Drive.OFF;
      default -> {}
    }
  }

  private void distort(double leapMillimetres) {
    leapt = !leapt;
    truth.remainingMicrons =
        leapMillimetres == 0
            ? standingMicrons
            : truth.remainingMicrons + (leapt ? (int) Elementary.rint(leapMillimetres * 1e3) : 0);
  }

  private static Drive reversed(Drive drive) {
    return switch (drive) {
      case FORWARD -> Drive.BACKWARD;
      case BACKWARD -> Drive.FORWARD;
      default -> drive;
    };
  }

  private void changeReading(
      Injection fault, long nowNs, ControllerOutput order, ControllerInput reading) {
    switch (fault.kind()) {
      case SPEED_LOST -> reading.speedMilliRpm = 0;
      case SPEED_NOISE ->
          reading.speedMilliRpm =
              (int)
                  Elementary.rint(
                      reading.speedMilliRpm * (1 + fault.strength() * random.nextGaussian()));
      case JAM -> {
        reading.speedMilliRpm = 0;
        if (order.drive.turns()) {
          reading.torqueMicroNewtonMetres = order.torqueLimitMicroNewtonMetres;
        }
      }
      case LOW_SUPPLY -> reading.supplyMilliVolts = (int) Elementary.rint(fault.strength() * 1000);
      case STOP_PRESSED -> {
        reading.stopLine = true;
        truth.stopLine = true;
      }
      case BAD_TRUTH -> distort(fault.strength());
      default -> signal.change(fault, nowNs - fault.onsetNs(firstTurnNs), reading);
    }
  }

  @Override
  public Truth truth() {
    return truth;
  }
}
