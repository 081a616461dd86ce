package org.stopwell.rig.board;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.virtual.Plant;
import org.stopwell.rig.virtual.TwinStand;
import org.stopwell.rig.wire.BoardIdentity;
import org.stopwell.rig.wire.DeviceFields;
import org.stopwell.rig.wire.ExchangeFields;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;
import org.stopwell.rig.wire.ReadingFields;
import org.stopwell.rig.wire.Refusal;
import org.stopwell.rig.wire.SceneFields;
import org.stopwell.rig.wire.StageFields;

/**
 * What a board does with a request, without the wire: sessions, the mount, the exchange and the
 * watchdog. One request gives at most one answer.
 */
final class Board {
  private static final int SEED = Message.MOUNT_BEGIN.index("seed");
  private static final int VALUES = Message.MOUNT_BEGIN.index("values");
  private static final int KEY = Message.REFUSED.index("key");
  private static final int WHY = Message.REFUSED.index("why");
  private static final int ERROR_CODE = Message.ERROR.index("code");
  private static final int ERROR_WHY = Message.ERROR.index("why");
  private static final int STATUS_TIME = Message.STATUS.index("time_ns");
  private static final int STATUS_MOUNTED = Message.STATUS.index("mounted");
  private static final int STATUS_MOTOR = Message.STATUS.index("motor_on");
  private static final int STATUS_WATCHDOG = Message.STATUS.index("watchdog");
  private static final int STATUS_REFUSED = Message.STATUS.index("frames_refused");

  private static final int MOVE_POSITION = Message.STAGE_MOVE.index("position_microns");
  private static final int MOVE_SPEED = Message.STAGE_MOVE.index("speed_microns_per_second");

  /** Time from sample to sample of a device, ns. */
  private static final long EACH_NS = 500_000;

  /** The board keeps so many samples for its host: 48 ms. */
  private static final int KEPT = 96;

  private final BoardIdentity identity;
  private final BoardTime time;
  private final StageModel stage;
  private final @Nullable TwinStand stand;
  private final List<Watched> watched = new ArrayList<>();
  private final ControllerOutput command = new ControllerOutput();
  private final ControllerInput reading = new ControllerInput();
  private final Truth truth = new Truth();
  private final List<SceneFields.Value> values = new ArrayList<>();
  private int session;
  private int sequence;
  private long seed;
  private long valuesWanted;
  private boolean mounting;
  private @Nullable Plant plant;
  private boolean stopped;
  private boolean watchdog;
  private long calledNs;
  private long exchangedNs;
  private long plantNs;
  private long refused;
  private long lost;

  /** Outcome of a request. */
  enum Outcome {
    /** There is a new answer. */
    ANSWERED,
    /** The request was the newest one again: the same answer goes out again. */
    REPEATED,
    /** There is nothing to say. */
    IGNORED
  }

  Board(BoardIdentity identity, BoardTime time, StageModel stage, @Nullable TwinStand stand) {
    this.stand = stand;
    this.identity = identity;
    this.time = time;
    this.stage = stage;
  }

  /** Obeys or refuses one request. */
  Outcome take(Packet request, Packet answer) {
    if (!request.message().fromHost()) {
      refused++;
      return Outcome.IGNORED;
    }
    boolean repeated = request.session() == session && request.sequence() == sequence;
    if (session != 0 && repeated) {
      return Outcome.REPEATED;
    }
    if (request.message() == Message.HELLO) {
      hello(request, answer);
      return Outcome.ANSWERED;
    }
    if (session == 0 || request.session() != session) {
      refuse(
          answer,
          request.session(),
          request.sequence(),
          session == 0 ? Refusal.NO_SESSION : Refusal.OTHER_SESSION,
          "session " + Integer.toUnsignedString(session) + " is open");
      return Outcome.ANSWERED;
    }
    if (request.sequence() - sequence < 0) {
      refused++;
      return Outcome.IGNORED;
    }
    sequence = request.sequence();
    obey(request, answer);
    return Outcome.ANSWERED;
  }

  /**
   * No exchange has come for as long as the identity allows, by the board's own clock.
   *
   * <p>A board in lockstep waits without motion, so nothing has moved; it cuts the power all the
   * same, because its host is probably dead.
   */
  void silence() {
    advanceTo(time.now());
    if (command.drive.turns()) {
      watchdog = true;
      command.clear();
    }
  }

  private void hello(Packet request, Packet answer) {
    takePower();
    plant = null;
    mounting = false;
    session = request.session();
    sequence = request.sequence();
    answer.begin(Message.IDENTITY, session, sequence);
    identity.put(answer);
  }

  private void obey(Packet request, Packet answer) {
    switch (request.message()) {
      case HEARTBEAT -> status(answer);
      case MOUNT_BEGIN -> {
        takePower();
        plant = null;
        mounting = true;
        values.clear();
        seed = request.number(SEED);
        valuesWanted = request.number(VALUES);
        answer.begin(Message.OK, session, sequence);
      }
      case MOUNT_VALUE -> {
        if (!mounting || values.size() >= valuesWanted) {
          error(answer, Refusal.BAD_ORDER, "MOUNT_BEGIN said " + valuesWanted + " values");
        } else {
          values.add(SceneFields.Value.get(request));
          answer.begin(Message.OK, session, sequence);
        }
      }
      case MOUNT_END -> mount(answer);
      case EXCHANGE -> exchange(request, answer);
      case SAFE_STOP -> safeStop(answer);
      case STAGE_HOME -> stage(stage.home(), answer);
      case STAGE_MOVE ->
          stage(stage.move(request.integer(MOVE_POSITION), request.number(MOVE_SPEED)), answer);
      case STAGE_STOP -> stage(stage.stop(), answer);
      case STAGE_ASK -> stage(stage.ask(), answer);
      case STAGE_FEED ->
          error(answer, Refusal.BAD_ORDER, "the hand of the scene feeds the file of this board");
      case VERIFY -> verify(answer);
      case WATCH -> watch(answer);
      default -> error(answer, Refusal.BAD_ORDER, "this board does not know the message");
    }
  }

  private void mount(Packet answer) {
    if (!mounting || values.size() != valuesWanted) {
      error(
          answer,
          Refusal.BAD_ORDER,
          values.size() + " values came, MOUNT_BEGIN said " + valuesWanted);
      return;
    }
    mounting = false;
    Plant fresh;
    try {
      Scene scene = SceneFields.scene(values, seed);
      TwinStand clamp = device();
      fresh = clamp == null ? new Plant(scene) : clamp.mount(scene);
    } catch (BenchException e) {
      answer.begin(Message.REFUSED, session, sequence).set(KEY, "device.model");
      answer.set(WHY, String.valueOf(e.getMessage()));
      return;
    } catch (SettingsException e) {
      Fault first = e.faults().get(0);
      answer.begin(Message.REFUSED, session, sequence).set(KEY, first.key());
      answer.set(WHY, first.message());
      return;
    }
    plant = fresh;
    watched.clear();
    lost = 0;
    stopped = false;
    watchdog = false;
    exchangedNs = 0;
    plantNs = 0;
    calledNs = -1;
    time.restart();
    read(fresh, answer);
  }

  private void exchange(Packet request, Packet answer) {
    long hostNs = ExchangeFields.nowNs(request);
    Plant mounted = plant;
    if (mounted == null) {
      error(answer, Refusal.NOT_MOUNTED, "no trial is mounted");
      return;
    }
    if (hostNs <= calledNs) {
      error(answer, Refusal.BAD_VALUE, "now_ns " + hostNs + " is not after " + calledNs);
      return;
    }
    calledNs = hostNs;
    long nowNs = Math.max(time.atExchange(hostNs), plantNs);
    if (!identity.lockstep()) {
      advanceTo(nowNs);
    }
    obeyCommand(request);
    if (identity.lockstep()) {
      advanceTo(nowNs);
    }
    exchangedNs = nowNs;
    read(mounted, answer);
  }

  private void read(Plant mounted, Packet answer) {
    mounted.read(reading);
    TwinStand clamp = device();
    if (clamp != null) {
      clamp.read(mounted, reading);
    }
    mounted.truth(truth);
    answer.begin(Message.READING, session, sequence);
    ReadingFields.put(answer, watchdog, reading, truth);
  }

  private void safeStop(Packet answer) {
    takePower();
    stopped = true;
    Plant mounted = plant;
    if (mounted == null) {
      answer.begin(Message.OK, session, sequence);
    } else {
      read(mounted, answer);
    }
  }

  /** What has taken the power once keeps it until the next mount. */
  private void obeyCommand(Packet request) {
    if (stopped || watchdog) {
      command.clear();
    } else {
      ExchangeFields.get(request, command);
    }
  }

  /** Goes on to a time; the power ends when the watchdog's time is over. */
  private void advanceTo(long nowNs) {
    Plant mounted = plant;
    if (mounted == null || nowNs <= plantNs) {
      return;
    }
    TwinStand clamp = device();
    if (clamp != null) {
      clamp.command(command);
      clamp.advance(mounted, nowNs);
      plantNs = nowNs;
      keep(clamp);
      return;
    }
    long endOfPowerNs = exchangedNs + identity.watchdogNs();
    if (command.drive.turns() && nowNs > endOfPowerNs) {
      mounted.advance(endOfPowerNs, command);
      watchdog = true;
      command.clear();
    }
    mounted.advance(nowNs, command);
    plantNs = nowNs;
  }

  private void takePower() {
    advanceTo(time.now());
    command.clear();
    stage.leave();
    TwinStand clamp = device();
    if (clamp != null) {
      clamp.cutPower();
    }
  }

  /** The clamp, while a device is in it. */
  private @Nullable TwinStand device() {
    TwinStand clamp = stand;
    return clamp != null && clamp.holdsDevice() ? clamp : null;
  }

  private void keep(TwinStand clamp) {
    clamp.drain(watched);
    int tooMany = watched.size() - KEPT;
    if (tooMany > 0) {
      watched.subList(0, tooMany).clear();
      lost += tooMany;
    }
  }

  private void verify(Packet answer) {
    TwinStand clamp = stand;
    if (clamp == null) {
      error(answer, Refusal.BAD_ORDER, "this board watches no device");
      return;
    }
    takePower();
    DeviceFields.put(answer.begin(Message.NETWORK, session, sequence), clamp.circuit());
  }

  private void watch(Packet answer) {
    if (stand == null) {
      error(answer, Refusal.BAD_ORDER, "this board watches no device");
      return;
    }
    DeviceFields.put(answer.begin(Message.WATCHED, session, sequence), watched, EACH_NS, lost);
  }

  private void stage(StageFields state, Packet answer) {
    if (identity.hasStage()) {
      state.put(answer.begin(Message.STAGE, session, sequence));
    } else {
      error(answer, Refusal.BAD_ORDER, "this board has no stage");
    }
  }

  private void status(Packet answer) {
    advanceTo(time.now());
    answer
        .begin(Message.STATUS, session, sequence)
        .set(STATUS_TIME, plantNs)
        .set(STATUS_MOUNTED, plant != null)
        .set(STATUS_MOTOR, command.drive.turns())
        .set(STATUS_WATCHDOG, watchdog)
        .set(STATUS_REFUSED, refused);
  }

  /** A request of the open session that cannot be obeyed: something is wrong, so the power goes. */
  private void error(Packet answer, Refusal code, String why) {
    takePower();
    refuse(answer, session, sequence, code, why);
  }

  private void refuse(Packet answer, int ofSession, int ofSequence, Refusal code, String why) {
    refused++;
    answer
        .begin(Message.ERROR, ofSession, ofSequence)
        .set(ERROR_CODE, code.ordinal())
        .set(ERROR_WHY, why);
  }
}
