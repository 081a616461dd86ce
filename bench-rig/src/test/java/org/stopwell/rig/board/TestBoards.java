package org.stopwell.rig.board;

import java.util.Map;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.virtual.Plant;
import org.stopwell.rig.wire.BoardIdentity;
import org.stopwell.rig.wire.FrameWriter;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;

/** Boards for tests, and what the plant behind them must have done. */
public final class TestBoards {
  private static final long MS = 1_000_000;

  private TestBoards() {}

  /** A board that is given up after a silence of so many ms. */
  public static BoardIdentity identity(boolean lockstep, long silenceMs) {
    return new BoardIdentity(
        FrameWriter.PROTOCOL,
        "test board",
        "T-0001",
        "stopwell plant",
        "7",
        "c0ffee",
        true,
        lockstep,
        true,
        true,
        true,
        true,
        true,
        0,
        MS,
        Plant.WATCHDOG_NS,
        silenceMs * MS);
  }

  /** A board that states another value in one field of its identity; a flag is 0 or 1. */
  public static BoardIdentity with(BoardIdentity board, String field, long value) {
    Packet packet = new Packet().begin(Message.IDENTITY, 1, 1);
    board.put(packet);
    packet.set(Message.IDENTITY.index(field), value);
    return BoardIdentity.get(packet);
  }

  /** A board with another serial number. */
  public static BoardIdentity named(BoardIdentity board, String serialNumber) {
    Packet packet = new Packet().begin(Message.IDENTITY, 1, 1);
    board.put(packet);
    packet.set(Message.IDENTITY.index("serial_number"), serialNumber);
    return BoardIdentity.get(packet);
  }

  /** The scene of all these tests. */
  public static Scene scene() {
    try {
      return Scene.of(Map.of(), 1);
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }

  /** A command of 300 rpm. */
  public static ControllerOutput command(Drive drive) {
    ControllerOutput command = new ControllerOutput();
    command.drive = drive;
    command.speedMilliRpm = 300_000;
    command.torqueLimitMicroNewtonMetres = 6000;
    return command;
  }

  /** What is so after a plant was driven directly, without any wire. */
  public static final class Reference {
    private final Plant plant = new Plant(scene());

    /** Goes on to a time. */
    public Reference until(long ms, Drive drive) {
      plant.advance(ms * MS, command(drive));
      return this;
    }

    /** The truth as text. */
    public String truth() {
      Truth truth = new Truth();
      plant.truth(truth);
      return text(truth);
    }
  }

  /** A truth as text, to compare two. */
  public static String text(Truth t) {
    return "%d ns, %d µm, %d milli-rpm, %d µN·m, %d µm fluid, wet %b, stop line %b, file %s"
        .formatted(
            t.timeNs,
            t.remainingMicrons,
            t.speedMilliRpm,
            t.torqueMicroNewtonMetres,
            t.fluidLevelMicrons,
            t.chamberWet,
            t.stopLine,
            t.file);
  }
}
