package org.stopwell.rig.proof;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.time.Pace;

/** Commands a bench through one mounted scene, at the bench's own pace. */
final class Drill {
  /** Speed of every drill, milli-rpm; a usual speed for measuring length. */
  static final int SPEED_MILLI_RPM = 300_000;

  private static final int TORQUE_MICRO_NEWTON_METRES = 6_000;

  final ControllerInput reading = new ControllerInput();
  private final Bench bench;
  private final boolean lockstep;
  private final long periodNs;
  private final ControllerOutput command = new ControllerOutput();
  private Pace pace;
  private long skippedNs;
  long nowNs;
  long latestNs;

  Drill(Bench bench, Scene scene) throws BenchException {
    this.bench = bench;
    this.lockstep = bench.describe().lockstep();
    this.periodNs = bench.describe().periodNs();
    bench.mount(scene);
    pace = lockstep ? Pace.lockstep(periodNs) : Pace.realTime(periodNs);
    exchange(Drive.OFF);
  }

  /** One period under a command. */
  void exchange(Drive drive) throws BenchException {
    command.drive = drive;
    command.speedMilliRpm = drive.turns() ? SPEED_MILLI_RPM : 0;
    command.torqueLimitMicroNewtonMetres = TORQUE_MICRO_NEWTON_METRES;
    nowNs = pace.next() + skippedNs;
    latestNs = Math.max(latestNs, pace.latenessNs());
    bench.exchange(nowNs, command, reading);
  }

  /** Periods under a command, until a time is over. */
  void run(Drive drive, long forNs) throws BenchException {
    for (long endNs = nowNs + forNs; nowNs < endNs; ) {
      exchange(drive);
    }
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
