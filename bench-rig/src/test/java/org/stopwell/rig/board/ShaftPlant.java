package org.stopwell.rig.board;

import java.util.concurrent.atomic.AtomicLong;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.wire.BoardIdentity;
import org.stopwell.rig.wire.FrameWriter;

/** A shaft without mass, for tests of the wire: it turns as told, at once. */
public final class ShaftPlant implements BoardPlant {
  /** The newest scene. */
  public volatile @Nullable Scene scene;

  /** Time with power since the mount, ns. */
  public final AtomicLong poweredNs = new AtomicLong();

  /** Whether the motor has power now. */
  public volatile boolean power;

  private final Truth truth = new Truth();

  /** A shaft at rest. */
  public ShaftPlant() {}

  /** Who a test board is. */
  public static BoardIdentity identity(boolean lockstep) {
    return new BoardIdentity(
        FrameWriter.PROTOCOL,
        "test board",
        "T-0001",
        "shaft",
        "1",
        "none",
        true,
        lockstep,
        true,
        1_000_000,
        100_000_000,
        lockstep ? 2_000_000_000L : 100_000_000L);
  }

  @Override
  public void mount(Scene newScene) {
    scene = newScene;
    poweredNs.set(0);
    power = false;
    truth.copyFrom(new Truth());
  }

  @Override
  public void advance(long nowNs, ControllerOutput command) {
    power = command.drive.turns();
    if (power) {
      poweredNs.addAndGet(nowNs - truth.timeNs);
    }
    truth.timeNs = nowNs;
    truth.speedMilliRpm =
        power ? (command.drive == Drive.FORWARD ? 1 : -1) * command.speedMilliRpm : 0;
  }

  @Override
  public void read(ControllerInput reading) {
    reading.positionKind = PositionKind.DISTANCE;
    reading.distanceMicrons = 1234;
    reading.sampleSequence = truth.timeNs / 1_000_000;
    reading.sampleTimeNs = truth.timeNs;
    reading.speedMilliRpm = truth.speedMilliRpm;
  }

  @Override
  public Truth truth() {
    return truth;
  }
}
