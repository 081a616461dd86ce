package org.stopwell.rig.serial;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.ToothSection;
import org.stopwell.rig.bench.Truth;

/**
 * A bench of two boards: the drive board turns the file and feeds it, the canal board at another
 * port says where the tip is. With a device board in place of the canal board a device turns the
 * file; the drive board feeds it as the hand of the scene does, by what the device board senses.
 */
public final class BoardsBench implements Bench {
  /** What the canal board must be able to do; the truth is of both boards. */
  private static final List<Ability> OF_CANAL =
      List.of(Ability.POSITION, Ability.TRUTH, Ability.TOOTH, Ability.DEVICE);

  private final SerialBench canal;
  private final SerialBench drive;
  private final ControllerInput driven = new ControllerInput();
  private final Truth truth = new Truth();
  private @Nullable StageFeed stage;
  private boolean fed;
  private boolean mounted;

  /**
   * A bench that is not yet open.
   *
   * @param canal the board that says where the tip is
   * @param drive the board that has the motor and the stage
   */
  public BoardsBench(SerialBench canal, SerialBench drive) {
    this.canal = canal;
    this.drive = drive;
  }

  @Override
  public BenchDescription describe() {
    BenchDescription a = canal.describe();
    BenchDescription b = drive.describe();
    return new BenchDescription(
        "boards",
        a.serialNumber() + " and " + b.serialNumber(),
        a.firmware() + "; " + b.firmware(),
        a.simulated() || b.simulated(),
        false,
        a.periodNs() + b.periodNs());
  }

  /**
   * The canal board reports position and truth; the drive board turns, feeds and reports the speed.
   */
  @Override
  public List<Lack> lacks() {
    return Stream.concat(
            canal.lacks().stream().filter(l -> OF_CANAL.contains(l.ability())),
            drive.lacks().stream()
                .filter(l -> l.ability() == Ability.TRUTH || !OF_CANAL.contains(l.ability())))
        .toList();
  }

  @Override
  public void open() throws BenchException {
    try {
      canal.open();
      if (!canal.hasPosition()) {
        throw new BenchException(
            RigFault.WRONG_IDENTITY,
            canal.name() + ": this board does not report the position of the tip");
      }
      drive.open();
      if (!drive.hasMotor()) {
        throw new BenchException(
            RigFault.WRONG_IDENTITY, drive.name() + ": this board has no motor");
      }
    } catch (BenchException e) {
      drive.close();
      canal.close();
      throw e;
    }
  }

  @Override
  public void mount(Scene scene) throws BenchException {
    mounted = false;
    drive.mount(scene);
    boolean device = canal.holdsDevice() && drive.hasStage();
    fed = device || StageFeed.isWantedBy(scene);
    if (fed && ToothSection.zeroes(scene)) {
      feed().forget();
      canal.mount(scene);
    } else if (device) {
      feed().mountForDevice(scene, canal);
    } else if (fed) {
      feed().mount(scene, canal);
    } else {
      canal.mount(scene);
    }
    truth.copyFrom(canal.truth());
    truth.timeNs = 0;
    mounted = true;
  }

  private StageFeed feed() throws BenchException {
    StageFeed known = stage;
    if (known == null) {
      known = new StageFeed(drive.stage());
      stage = known;
    }
    return known;
  }

  @Override
  public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
      throws BenchException {
    if (!mounted) {
      throw new BenchException(RigFault.REFUSED, "boards: no trial is mounted");
    }
    try {
      // Both boards work at the same time; one after the other would take most of a period.
      drive.tell(nowNs, command);
      canal.tell(nowNs, command);
      drive.hear(nowNs, driven);
      canal.hear(nowNs, reading);
      if (fed && canal.watches()) {
        feed().feedDevice(canal.truth().remainingMicrons);
      } else if (fed) {
        feed()
            .follow(
                command.drive == Drive.FORWARD && !driven.stopLine, canal.truth().remainingMicrons);
      }
    } catch (BenchException e) {
      drive.safeStop();
      throw e;
    } finally {
      // Also when the drive board says with its reading that it has taken the power by itself.
      reading.speedMilliRpm = driven.speedMilliRpm;
      reading.torqueMicroNewtonMetres = driven.torqueMicroNewtonMetres;
      reading.currentMilliAmps = driven.currentMilliAmps;
      reading.supplyMilliVolts = driven.supplyMilliVolts;
      reading.demand = driven.demand;
      reading.stopLine = driven.stopLine;
      reading.reset = driven.reset;
      reading.linkAgeNs = Math.max(reading.linkAgeNs, driven.linkAgeNs);
      truth.copyFrom(canal.truth());
      truth.timeNs = nowNs;
      truth.speedMilliRpm = drive.truth().speedMilliRpm;
      truth.torqueMicroNewtonMetres = drive.truth().torqueMicroNewtonMetres;
      truth.stopLine = drive.truth().stopLine;
    }
  }

  @Override
  public Truth truth() {
    return truth;
  }

  @Override
  public Optional<DeviceWatch> deviceWatch() {
    return canal.deviceWatch();
  }

  @Override
  public Optional<LinearStage> drivenStage() throws BenchException {
    return drive.hasStage() ? Optional.of(drive.stage()) : Optional.empty();
  }

  @Override
  public void safeStop() {
    drive.safeStop();
    canal.safeStop();
  }

  @Override
  public void close() {
    mounted = false;
    drive.close();
    canal.close();
  }
}
