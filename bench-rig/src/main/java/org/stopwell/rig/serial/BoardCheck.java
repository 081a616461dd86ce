package org.stopwell.rig.serial;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.wire.BoardIdentity;
import org.stopwell.rig.wire.FrameWriter;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;
import org.stopwell.rig.wire.TimeBound;

/** What a board must be to be driven, and what it cannot do. */
final class BoardCheck {
  /** The version of the wire protocol that brought the messages of a device under test. */
  private static final int WATCHES_FROM = 6;

  private static final int REFUSED_KEY = Message.REFUSED.index("key");
  private static final int REFUSED_WHY = Message.REFUSED.index("why");

  private BoardCheck() {}

  /** What a board cannot do, in the words of messages. */
  static List<Lack> lacks(BoardIdentity board, String who) {
    List<Lack> lacks = new ArrayList<>();
    lackUnless(board.hasMotor(), Ability.MOTOR, who, lacks);
    lackUnless(board.hasPosition(), Ability.POSITION, who, lacks);
    lackUnless(board.hasTruth(), Ability.TRUTH, who, lacks);
    // A model feeds the file of its scene without a stage.
    lackUnless(board.hasStage() || board.simulated(), Ability.STAGE, who, lacks);
    lackUnless(board.readsTooth(), Ability.TOOTH, who, lacks);
    String version =
        who + ", wire protocol " + board.protocol() + " (at least " + WATCHES_FROM + " needed),";
    lackUnless(mayWatch(board), Ability.DEVICE, version, lacks);
    return lacks;
  }

  private static void lackUnless(boolean there, Ability ability, String who, List<Lack> lacks) {
    if (!there) {
      lacks.add(new Lack(ability, who));
    }
  }

  /** Whether a board knows the messages of a device under test. */
  static boolean mayWatch(BoardIdentity board) {
    return board.protocol() >= WATCHES_FROM;
  }

  /**
   * Refuses a board that this build cannot drive, or that is not the one that is wanted.
   *
   * @param board who it says it is
   * @param port the port, as messages name it
   * @param wantedSerialNumber the only board that will do, or null for any
   */
  static void identity(BoardIdentity board, String port, @Nullable String wantedSerialNumber)
      throws BenchException {
    if (!(board.protocol() >= FrameWriter.OLDEST_PROTOCOL
        && board.protocol() <= FrameWriter.PROTOCOL)) {
      throw wrong(port, "protocol version", board.protocol(), FrameWriter.PROTOCOL);
    }
    if (wantedSerialNumber != null && !wantedSerialNumber.equals(board.serialNumber())) {
      throw wrong(port, "board with serial number", board.serialNumber(), wantedSerialNumber);
    }
    if (board.serialNumber().isEmpty()) {
      throw new BenchException(
          RigFault.WRONG_IDENTITY,
          port
              + ": serial_number is empty, required 1 to 32 bytes: a board is known by its serial"
              + " number. Give the board one in its calibration.");
    }
    for (TimeBound bound : TimeBound.values()) {
      if (!bound.allows(board)) {
        throw outside(port, bound.field(), bound.of(board), bound.leastNs(), bound.mostNs());
      }
    }
    if (board.silenceNs() < board.watchdogNs()) {
      throw outside(
          port,
          TimeBound.SILENCE.field(),
          board.silenceNs(),
          board.watchdogNs(),
          TimeBound.SILENCE.mostNs());
    }
  }

  private static BenchException outside(String port, String field, long is, long least, long most) {
    return wrong(
        port, field, is + " ns", least + " to " + most + " ns; correct the board's firmware");
  }

  private static BenchException wrong(String port, String what, Object is, Object wanted) {
    return new BenchException(
        RigFault.WRONG_IDENTITY, port + ": " + what + " " + is + ", wanted " + wanted);
  }

  /** An answer that is no refusal. */
  static Packet accept(Link link, Packet answer) throws BenchException {
    if (answer.message() == Message.REFUSED) {
      throw new BenchException(
          RigFault.REFUSED,
          "port "
              + link.name()
              + ": the board refuses "
              + answer.text(REFUSED_KEY)
              + ": "
              + answer.text(REFUSED_WHY));
    }
    return answer;
  }
}
