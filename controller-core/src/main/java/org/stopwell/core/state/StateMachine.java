package org.stopwell.core.state;

import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.guard.Arbiter;
import org.stopwell.core.guard.Reaction;
import org.stopwell.core.motion.SpeedRamp;
import org.stopwell.core.motion.TurnAngle;
import org.stopwell.core.sense.PositionSense;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.trace.Event;
import org.stopwell.core.trace.EventRing;
import org.stopwell.core.trace.StateHash;

/** One enum, one switch, one method per state, one transition method. */
public final class StateMachine {
  private static final int EVENTS = 64;
  private static final Stage[] STAGES = Stage.values();

  /** A start needs this much more distance than the standoff, µm; assumed. */
  private static final int START_MARGIN_MICRONS = 300;

  /** Below this the file stands, milli-rpm; assumed. */
  private static final int STANDSTILL_MILLI_RPM = 2_000;

  private static final long FOREVER_NS = Long.MAX_VALUE / 2;

  private final @Nullable StageSetup[] setups = new @Nullable StageSetup[STAGES.length];
  private final PositionSense sense;
  private final Arbiter arbiter;
  private final EventRing events = new EventRing(EVENTS);
  private final Event event = new Event();
  private final Rearm rearm = new Rearm();
  private final TorqueWatch torque;
  private final SpeedRamp ramp = new SpeedRamp();
  private final TurnAngle angle = new TurnAngle();

  private State state = State.PARKED;
  private Reason reason = Reason.STARTED_UP;
  private Stage stage;
  private Stage asked;
  private StageSetup setup;
  private boolean stageAllowed;
  private long inStateNs;
  private boolean holdAfterBacking;
  private boolean swingingForward;
  private Drive drive = Drive.OFF;

  // What the step brought: kept for the state methods, overwritten at every step.
  private long nowNs;
  private boolean demand;
  private boolean reset;
  private int speedMilliRpm;
  private int torqueMicroNewtonMetres;

  /**
   * A machine at rest.
   *
   * @param settings checked settings
   * @param sense where the file is
   * @param arbiter what the guards ask for
   */
  public StateMachine(ControllerSettings settings, PositionSense sense, Arbiter arbiter) {
    this.sense = sense;
    this.arbiter = arbiter;
    torque = new TorqueWatch(settings.section("guard").get(GuardParameters.TORQUE_BUDGET));
    Stage first = null;
    StageSetup firstSetup = null;
    for (Stage s : STAGES) {
      if (settings.has(s)) {
        StageSetup made = new StageSetup(settings.stage(s));
        setups[s.code()] = made;
        first = first == null ? s : first;
        firstSetup = firstSetup == null ? made : firstSetup;
      }
    }
    if (first == null || firstSetup == null) {
      throw new IllegalArgumentException("settings without a stage");
    }
    stage = first;
    asked = first;
    setup = firstSetup;
    stageAllowed = true;
  }

  /**
   * One step.
   *
   * @param nowNs time of the step, ns
   * @param dtNs time since the step before, ns
   * @param in the input
   * @param plausible whether the input may be used
   */
  public void step(long nowNs, long dtNs, ControllerInput in, boolean plausible) {
    this.nowNs = nowNs;
    demand = plausible && in.demand;
    reset = plausible && in.reset;
    speedMilliRpm = plausible ? in.speedMilliRpm : 0;
    torqueMicroNewtonMetres = plausible ? in.torqueMicroNewtonMetres : 0;
    inStateNs = Math.min(FOREVER_NS, inStateNs + dtNs);
    if (plausible) {
      chooseStage(in.stage);
    }
    angle.update(dtNs, speedMilliRpm);
    torque.update(dtNs, torqueMicroNewtonMetres, state, setup, arbiter);
    StageAsks.ask(nowNs, state, setup, sense, arbiter);
    if (!demand) {
      arbiter.ask(Reaction.HOLD, Reason.DEMAND_RELEASED);
    }
    trackRearm(dtNs);
    switch (state) {
      case PARKED -> parked();
      case TURNING, EASING -> driving();
      case HOLDING -> holding();
      case BACKING -> backing();
      case ROCKING -> rocking();
      case LOCKED -> locked();
    }
    move(dtNs);
  }

  private void chooseStage(Stage wanted) {
    boolean changed = wanted != asked;
    asked = wanted;
    if (turning()) {
      if (changed && wanted != stage) {
        note(Reason.STAGE_REFUSED);
      }
      return;
    }
    StageSetup found = setups[wanted.code()];
    stageAllowed = found != null;
    if (found != null) {
      stage = wanted;
      setup = found;
    } else if (changed) {
      note(Reason.STAGE_REFUSED);
    }
  }

  private void trackRearm(long dtNs) {
    boolean known = sense.placed() || sense.far();
    if (sense.trust() == Trust.SURE && known) {
      rearm.place(
          dtNs,
          (int) sense.remainingMicrons(nowNs),
          sense.far(),
          setup.rearmMicrons,
          setup.rearmNs);
    } else {
      rearm.lose();
    }
    if (sense.outside()) {
      rearm.leave();
      if (reset) {
        rearm.forgive();
      }
    }
    if (!demand) {
      rearm.release();
    }
  }

  private boolean turning() {
    return state == State.TURNING
        || state == State.EASING
        || state == State.BACKING
        || state == State.ROCKING;
  }

  private void parked() {
    if (arbiter.reaction() == Reaction.LOCK) {
      to(State.LOCKED, arbiter.reason());
    } else if (mayStart()) {
      to(State.TURNING, Reason.CANAL_ENTERED);
    }
  }

  private void holding() {
    if (arbiter.reaction() == Reaction.LOCK) {
      to(State.LOCKED, arbiter.reason());
    } else if (sense.outside()) {
      to(State.PARKED, Reason.CANAL_LEFT);
    } else if (mayStart()) {
      to(State.TURNING, Reason.REARMED);
    }
  }

  private boolean mayStart() {
    return sense.inside()
        && stageAllowed
        && !rearm.withdrawalOwed()
        && !rearm.askOwed()
        && arbiter.reaction().compareTo(Reaction.EASE) <= 0
        && !(sense.placed()
            && setup.stopsAtStandoff()
            && sense.remainingMicrons(nowNs) < setup.standoffMicrons + START_MARGIN_MICRONS);
  }

  private void driving() {
    if (stopped()) {
      return;
    }
    switch (arbiter.reaction()) {
      case BACK_OUT -> startBacking();
      case ROCK -> {
        torque.use();
        to(State.ROCKING, arbiter.reason());
        swingingForward = false;
      }
      case EASE -> {
        if (state == State.TURNING) {
          to(State.EASING, arbiter.reason());
        }
      }
      default -> {
        if (state == State.EASING) {
          to(State.TURNING, Reason.CLEAR_AGAIN);
        }
      }
    }
  }

  private void startBacking() {
    holdAfterBacking = arbiter.reason() != Reason.TORQUE_LIMIT;
    if (!holdAfterBacking) {
      torque.use();
    }
    to(State.BACKING, arbiter.reason());
  }

  private void backing() {
    if (stopped()) {
      return;
    }
    holdAfterBacking |= arbiter.reaction() == Reaction.BACK_OUT;
    if (-angle.milliDegrees() < setup.backOutMilliDegrees && inStateNs < setup.backOutNs) {
      return;
    }
    if (holdAfterBacking) {
      to(State.HOLDING, Reason.BACKED_OUT);
      oweWithdrawal();
    } else {
      to(State.TURNING, Reason.TORQUE_RELEASED);
    }
  }

  private void rocking() {
    if (stopped()) {
      return;
    }
    if (arbiter.reaction() == Reaction.BACK_OUT) {
      startBacking();
    } else if (inStateNs >= setup.rockNs) {
      to(State.TURNING, Reason.TORQUE_RELEASED);
    } else if (swingingForward && angle.milliDegrees() >= 0) {
      swingingForward = false;
    } else if (!swingingForward && -angle.milliDegrees() >= setup.rockMilliDegrees) {
      swingingForward = true;
    }
  }

  /** What every turning state obeys first. */
  private boolean stopped() {
    if (arbiter.reaction() == Reaction.LOCK) {
      to(State.LOCKED, arbiter.reason());
      oweWithdrawal();
    } else if (arbiter.reaction() == Reaction.HOLD) {
      to(State.HOLDING, arbiter.reason());
      oweWithdrawal();
    } else if (sense.outside()) {
      to(State.PARKED, Reason.CANAL_LEFT);
    }
    return !turning();
  }

  private void oweWithdrawal() {
    if (sense.placed()) {
      rearm.owe((int) sense.remainingMicrons(nowNs));
    } else {
      rearm.owe();
    }
  }

  private void locked() {
    if (reset && arbiter.reaction() != Reaction.LOCK) {
      to(State.PARKED, Reason.RESET);
      rearm.oweAsk();
    }
  }

  /** The one place where the state changes. */
  private void to(State next, Reason why) {
    fillEvent(next, why);
    events.add(event);
    if (next == State.TURNING && !turning()) {
      torque.startOver();
    }
    state = next;
    reason = why;
    inStateNs = 0;
    angle.zero();
    torque.refill();
  }

  private void note(Reason why) {
    fillEvent(state, why);
    events.add(event);
  }

  private void fillEvent(State next, Reason why) {
    event.timeNs = nowNs;
    event.from = state;
    event.to = next;
    event.reason = why;
    event.trust = sense.trust();
    event.cause = sense.cause();
    event.readingPresent = sense.placed();
    event.remainingMicrons = sense.placed() ? (int) sense.remainingMicrons(nowNs) : 0;
    event.closingMicronsPerSecond = (int) sense.closingMicronsPerSecond();
    event.signalAgeMicros =
        (int) Math.min(Integer.MAX_VALUE, Math.floorDiv(sense.ageNs(nowNs), 1_000L));
    event.speedMilliRpm = speedMilliRpm;
    event.torqueMicroNewtonMetres = torqueMicroNewtonMetres;
    event.standoffMicrons = setup.standoffMicrons;
    event.torqueLimitMicroNewtonMetres = setup.torqueMicroNewtonMetres;
  }

  private void move(long dtNs) {
    Drive before = drive;
    drive =
        switch (state) {
          case TURNING, EASING -> Drive.FORWARD;
          case BACKING -> Drive.BACKWARD;
          case ROCKING -> swingingForward ? Drive.FORWARD : Drive.BACKWARD;
          case HOLDING, LOCKED -> setup.rest;
          case PARKED -> Math.abs(speedMilliRpm) >= STANDSTILL_MILLI_RPM ? setup.rest : Drive.OFF;
        };
    if (drive != before) {
      ramp.rest();
    }
    if (drive.turns()) {
      ramp.update(dtNs, target(), setup.rampMilliRpmPerSecond);
    }
  }

  private int target() {
    if (state == State.TURNING) {
      return setup.speedMilliRpm;
    }
    if (state != State.EASING || !sense.placed()) {
      return setup.easeSpeedMilliRpm;
    }
    double share = (sense.remainingMicrons(nowNs) - setup.standoffMicrons) / setup.easeMicrons;
    double held = Math.max(0, Math.min(share, 1));
    return setup.easeSpeedMilliRpm + (int) (held * (setup.speedMilliRpm - setup.easeSpeedMilliRpm));
  }

  /**
   * Says what the motor shall do.
   *
   * @param out receives drive, speed, torque limit, state and reason
   */
  public void fill(ControllerOutput out) {
    out.drive = drive;
    out.speedMilliRpm = drive.turns() ? ramp.speedMilliRpm() : 0;
    out.torqueLimitMicroNewtonMetres = drive.turns() ? setup.torqueMicroNewtonMetres : 0;
    out.state = state;
    out.reason = reason;
  }

  /**
   * The last changes of state.
   *
   * @return the ring itself, for reading between steps
   */
  public EventRing events() {
    return events;
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    long h = StateHash.mix(hash, state.code() << 16 | reason.code() << 8 | drive.code());
    h = StateHash.mix(h, stage.code() << 8 | asked.code());
    h = StateHash.mix(h, stageAllowed);
    h = StateHash.mix(h, inStateNs);
    h = StateHash.mix(h, holdAfterBacking);
    h = StateHash.mix(h, swingingForward);
    h = ramp.mixInto(angle.mixInto(torque.mixInto(rearm.mixInto(h))));
    return events.mixInto(h);
  }
}
