package org.stopwell.rig.proof;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.time.LatenessHistogram;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.time.Pace;

/** Commands a bench through one mounted scene, at the bench's own pace. */
public final class Drill {
  /** Speed of every drill, milli-rpm; a usual speed for measuring length. */
  static final int SPEED_MILLI_RPM = 300_000;

  private static final int TORQUE_MICRO_NEWTON_METRES = 6_000;

  final ControllerInput reading = new ControllerInput();
  final LatenessHistogram lateness = new LatenessHistogram();
  final Punctuality punctuality = new Punctuality();
  private final Bench bench;
  private final boolean lockstep;
  private final ControllerOutput command = new ControllerOutput();
  private final Pace pace;
  private long skippedNs;
  long nowNs;

  /**
   * Mounts a scene and exchanges once, with the motor off.
   *
   * @param bench an open bench
   * @param scene what to mount
   * @throws BenchException when the bench fails
   */
  public Drill(Bench bench, Scene scene) throws BenchException {
    this.bench = bench;
    this.lockstep = bench.describe().lockstep();
    bench.mount(scene);
    long periodNs = bench.describe().periodNs();
    pace = lockstep ? Pace.lockstep(periodNs) : Pace.realTime(periodNs);
    exchange(Drive.OFF);
  }

  /** One period under a command. */
  void exchange(Drive drive) throws BenchException {
    begin(drive);
    bench.exchange(nowNs, command, reading);
  }

  /**
   * One period under a command, with the time that its exchange took.
   *
   * @param drive what the motor shall do
   * @return from request to answer, ns
   * @throws BenchException when the bench fails
   */
  public long exchangeTimed(Drive drive) throws BenchException {
    begin(drive);
    long beginNs = MachineClock.nowNs();
    bench.exchange(nowNs, command, reading);
    long endNs = MachineClock.nowNs();
    punctuality.add(beginNs - pace.latenessNs(), beginNs, endNs);
    return endNs - beginNs;
  }

  private void begin(Drive drive) {
    command.drive = drive;
    command.speedMilliRpm = drive.turns() ? SPEED_MILLI_RPM : 0;
    command.torqueLimitMicroNewtonMetres = TORQUE_MICRO_NEWTON_METRES;
    nowNs = pace.next() + skippedNs;
    lateness.add(pace.latenessNs());
  }

  /**
   * Periods under a command, until a time is over.
   *
   * @param drive what the motor shall do
   * @param forNs how long, ns
   * @throws BenchException when the bench fails
   */
  public void run(Drive drive, long forNs) throws BenchException {
    for (long endNs = nowNs + forNs; nowNs < endNs; ) {
      exchange(drive);
    }
  }

  /**
   * Periods under a command, with what the bench sees of a device meanwhile.
   *
   * @param watch watches the device
   * @param drive what the motor shall do
   * @param forNs how long, ns
   * @return the samples in the order of their times
   * @throws BenchException when the bench fails
   */
  public List<Watched> watch(DeviceWatch watch, Drive drive, long forNs) throws BenchException {
    List<Watched> seen = new ArrayList<>();
    for (long endNs = nowNs + forNs; nowNs < endNs; ) {
      exchange(drive);
      watch.drain(seen);
    }
    return seen;
  }

  /**
   * Tells a turning motor to rest and waits until it does.
   *
   * @param limitNs how long to wait, ns
   * @return how long it took, ms; empty when it did not turn or did not rest in time
   * @throws BenchException when the bench fails
   */
  public OptionalDouble coast(long limitNs) throws BenchException {
    if (isAtRest()) {
      return OptionalDouble.empty();
    }
    long toldNs = nowNs;
    while (!isAtRest() && nowNs - toldNs <= limitNs) {
      exchange(Drive.OFF);
    }
    return isAtRest() ? OptionalDouble.of((nowNs - toldNs) / 1e6) : OptionalDouble.empty();
  }

  /** Says nothing to the bench for a time. */
  void silence(long forNs) {
    if (lockstep) {
      skippedNs += forNs;
    } else {
      MachineClock.waitNs(forNs);
    }
  }

  boolean isAtRest() {
    return Math.abs(reading.speedMilliRpm) <= BenchProof.REST_MILLI_RPM;
  }
}
