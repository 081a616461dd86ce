package org.stopwell.rig.serial;

import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.StageFields;
import org.stopwell.rig.wire.StageState;

/** The stage of a board at a serial port, by the wire protocol. */
final class SerialStage implements LinearStage {
  /** From one question to the next while it is busy, ns (assumed: well within any silence). */
  private static final long LOOK_NS = 20_000_000;

  /** The longest seek of the home switch that is waited for, ns (assumed). */
  private static final long HOME_LIMIT_NS = 60_000_000_000L;

  /** What ramps, a detour and a busy machine may take beyond way over speed, ns (assumed). */
  private static final long RAMP_NS = 10_000_000_000L;

  private static final int POSITION = Message.STAGE_MOVE.index("position_microns");
  private static final int SPEED = Message.STAGE_MOVE.index("speed_microns_per_second");

  private static final int FEED_MOST = Message.STAGE_FEED.index("most_microns");

  private final SerialBench board;
  private final int patience;

  SerialStage(SerialBench board, int patience) {
    this.board = board;
    this.patience = patience;
  }

  @Override
  public Status home() throws BenchException {
    return await(begun(ask(Message.STAGE_HOME, 0, 0), "home"), "home", HOME_LIMIT_NS);
  }

  @Override
  public Status moveTo(int positionMicrons, int micronsPerSecond) throws BenchException {
    int from = status().positionMicrons();
    Status begun = setOut(positionMicrons, micronsPerSecond);
    long wayNs =
        Math.abs((long) positionMicrons - from) * 1_000_000_000L / Math.max(1, micronsPerSecond);
    // Machine and board may each be slowed down by others: twice the way is still an end.
    return await(begun, place(positionMicrons, micronsPerSecond), 2 * wayNs + RAMP_NS);
  }

  @Override
  public Status setOut(int positionMicrons, int micronsPerSecond) throws BenchException {
    return begun(
        ask(Message.STAGE_MOVE, positionMicrons, Math.max(0, micronsPerSecond)),
        place(positionMicrons, micronsPerSecond));
  }

  @Override
  public Status feed(int mostMicrons) throws BenchException {
    return begun(ask(Message.STAGE_FEED, mostMicrons, 0), "the feed of the scene");
  }

  @Override
  public Status stop() throws BenchException {
    return status(ask(Message.STAGE_STOP, 0, 0));
  }

  @Override
  public Status status() throws BenchException {
    return status(ask(Message.STAGE_ASK, 0, 0));
  }

  private StageFields ask(Message message, int position, int speed) throws BenchException {
    return board.ask(
        message,
        Message.STAGE,
        request -> {
          if (message == Message.STAGE_MOVE) {
            request.set(POSITION, position).set(SPEED, speed);
          } else if (message == Message.STAGE_FEED) {
            request.set(FEED_MOST, position);
          }
        },
        StageFields::get);
  }

  private Status begun(StageFields stage, String where) throws BenchException {
    return switch (stage.state()) {
      case HOMING, MOVING, ARRIVED, FEEDING -> status(stage);
      default -> throw failed(stage, where);
    };
  }

  private Status await(Status begun, String where, long usualNs) throws BenchException {
    long limitNs = patience * usualNs;
    Deadline limit = Deadline.in(limitNs);
    Status now = begun;
    while (now.busy()) {
      if (limit.passed()) {
        stop();
        throw new BenchException(
            RigFault.STAGE,
            board.name()
                + ": stage: not "
                + where
                + " within "
                + limitNs / 1_000_000
                + " ms; it stands at "
                + now.positionMicrons()
                + " µm");
      }
      MachineClock.waitNs(LOOK_NS);
      now = arrived(ask(Message.STAGE_ASK, 0, 0), where);
    }
    return now;
  }

  private Status arrived(StageFields stage, String where) throws BenchException {
    if (!stage.state().busy() && stage.state() != StageState.ARRIVED) {
      throw failed(stage, where);
    }
    return status(stage);
  }

  private BenchException failed(StageFields stage, String where) {
    return new BenchException(
        RigFault.STAGE,
        board.name()
            + ": stage: "
            + stage.state()
            + " on the way to "
            + where
            + "; it stands at "
            + stage.positionMicrons()
            + " µm, may go from "
            + stage.leastMicrons()
            + " to "
            + stage.mostMicrons()
            + " µm at up to "
            + stage.fastestMicronsPerSecond()
            + " µm/s");
  }

  private static String place(int positionMicrons, int micronsPerSecond) {
    return positionMicrons + " µm at " + micronsPerSecond + " µm/s";
  }

  private static Status status(StageFields stage) {
    return new Status(
        stage.state().busy(),
        stage.homed(),
        stage.positionMicrons(),
        stage.leastMicrons(),
        stage.mostMicrons(),
        stage.fastestMicronsPerSecond(),
        stage.state().name());
  }
}
