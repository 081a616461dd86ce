package org.stopwell.core.state;

import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.guard.Arbiter;
import org.stopwell.core.guard.Reaction;
import org.stopwell.core.guard.StopMonitor;
import org.stopwell.core.motion.CoastLearner;
import org.stopwell.core.motion.Reciprocation;
import org.stopwell.core.motion.TurnAngle;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.sense.PositionSense;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.trace.EventRing;
import org.stopwell.core.trace.StateHash;

/** One enum, one switch, one method per state, one transition method. */
public final class StateMachine {
  /** A start needs this much more distance than the standoff, µm; assumed. */
  private static final int START_MARGIN_MICRONS = 300;

  private static final long FOREVER_NS = Long.MAX_VALUE / 2;

  /** A stage of work with its learned values. */
  private static final class StageWork {
    final StageSetup setup;
    final CoastLearner coast;
    final Reciprocation strokes;

    StageWork(StageSetup setup) {
      this.setup = setup;
      coast = new CoastLearner(setup.reactionNs);
      strokes = new Reciprocation(setup.forwardMilliDegrees, setup.backwardMilliDegrees);
    }

    long coastNs() {
      return setup.learnsCoast ? coast.coastNs() : setup.reactionNs;
    }

    long mixInto(long hash) {
      long h = coast.mixInto(hash);
      return setup.reciprocates || setup.strokesByLoad ? strokes.mixInto(h) : h;
    }
  }

  private final @Nullable StageWork[] stages = new @Nullable StageWork[Stage.values().length];
  private final PositionSense sense;
  private final Arbiter arbiter;
  private final StopMonitor monitor;
  private final Journal journal;
  private final Rearm rearm = new Rearm();
  private final ResetPress resetPress = new ResetPress();
  private final StageAsks asks;
  private final TorqueWatch torqueWatch;
  private final Motion motion = new Motion();
  private final TurnAngle angle = new TurnAngle();

  private State state = State.PARKED;
  private Reason reason = Reason.STARTED_UP;
  private Stage stage;
  private Stage asked;
  private boolean stageAllowed = true;
  private StageWork work;
  private long resting;
  private StageSetup setup;
  private long inStateNs;
  private boolean holdAfterBacking;
  private boolean swingingForward;
  private boolean axisDropped;

  // What the step brought: kept for the state methods, overwritten at every step.
  private long nowNs;
  private boolean demand;
  private boolean reset;
  private boolean axis;
  private int insertionMicrons;
  private int speedMilliRpm;
  private int torqueMicroNewtonMetres;

  /**
   * A machine at rest.
   *
   * @param settings checked settings
   * @param sense where the file is
   * @param arbiter what the guards ask for
   * @param policies the policies that the settings may name
   */
  public StateMachine(
      ControllerSettings settings, PositionSense sense, Arbiter arbiter, Policies policies) {
    monitor = new StopMonitor(settings);
    this.sense = sense;
    this.arbiter = arbiter;
    journal = new Journal(sense);
    asks = new StageAsks(policies.stopping(settings), policies.trust(settings));
    torqueWatch = new TorqueWatch(settings.section("guard"), policies.torque(settings));
    Stage firstStage = null;
    StageWork firstWork = null;
    for (Stage s : Stage.values()) {
      if (settings.has(s)) {
        StageWork made = new StageWork(new StageSetup(settings.stage(s)));
        stages[s.code()] = made;
        firstStage = firstStage == null ? s : firstStage;
        firstWork = firstWork == null ? made : firstWork;
      }
    }
    if (firstStage == null || firstWork == null) {
      throw new IllegalArgumentException("settings without a stage");
    }
    stage = firstStage;
    asked = firstStage;
    work = firstWork;
    setup = firstWork.setup;
    sense.tolerate(setup.toleranceMicrons);
    resting = resting();
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
    take(nowNs, in, plausible);
    inStateNs = Math.min(FOREVER_NS, inStateNs + dtNs);
    if (plausible) {
      chooseStage(in.stage);
    }
    int along = setup.along(speedMilliRpm);
    angle.update(dtNs, along);
    if (motion.measure(dtNs, along, torqueMicroNewtonMetres, state, setup, work.strokes)) {
      note(motion.loaded() ? Reason.LOAD_HIGH : Reason.LOAD_LOW);
    }
    if (work.coast.watching()) { // else nobody needs the place, which takes 8 % of a step
      // the coast is a difference of places: an error of the place cancels
      work.coast.update(dtNs, sense.placed() && sense.sound(), sense.remainingMicrons(nowNs));
    }
    torqueWatch.update(dtNs, torqueMicroNewtonMetres, state, setup, arbiter);
    if (sense.axisDropped() && !axisDropped) {
      note(Reason.AXIS_DROPPED);
    }
    axisDropped = sense.axisDropped();
    asks.trust(setup, sense, arbiter);
    asks.standoff(nowNs, state, setup, work.coastNs(), sense, arbiter);
    asks.depth(setup, axis, insertionMicrons, arbiter);
    if (plausible) {
      // the monitor compares what follows with the reference, and not the reference with the truth
      boolean sound = state.drives() && sense.placed() && sense.sound();
      monitor.update(in, stage, sound, sound ? sense.remainingByReadings(nowNs) : 0);
    }
    monitor.ask(turning() && state != State.BACKING, arbiter);
    if (!demand) {
      arbiter.ask(Reaction.HOLD, Reason.DEMAND_RELEASED);
    }
    boolean mayTurn = turning() && arbiter.reaction().compareTo(Reaction.HOLD) < 0;
    rearm.update(dtNs, sense, in, plausible, mayTurn, setup);
    switch (state) {
      case PARKED -> parked();
      case TURNING, EASING -> driving();
      case HOLDING -> holding();
      case BACKING -> backing();
      case ROCKING -> rocking();
      case LOCKED -> locked();
    }
    motion.command(
        nowNs, dtNs, along, swingingForward, state, setup, sense, asks.easeMicrons(), work.strokes);
  }

  private void take(long now, ControllerInput in, boolean plausible) {
    nowNs = now;
    demand = plausible && in.demand;
    reset = resetPress.update(in, plausible);
    axis = plausible && in.insertionPresent;
    insertionMicrons = axis ? in.insertionMicrons : 0;
    speedMilliRpm = plausible ? in.speedMilliRpm : 0;
    torqueMicroNewtonMetres = plausible ? in.torqueMicroNewtonMetres : 0;
  }

  private void chooseStage(Stage wanted) {
    boolean changed = wanted != asked;
    asked = wanted;
    StageWork found = stages[wanted.code()];
    boolean refused = turning() ? wanted != stage : found == null;
    if (refused && changed) {
      note(Reason.STAGE_REFUSED);
    }
    if (turning()) {
      return;
    }
    stageAllowed = found != null;
    if (found != null) {
      stage = wanted;
      setup = found.setup;
      sense.tolerate(setup.toleranceMicrons);
      if (found != work) {
        work = found;
        resting = resting();
      }
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
    } else if (reason != Reason.PAST_FORAMEN && isPast()) {
      note(Reason.PAST_FORAMEN);
      reason = Reason.PAST_FORAMEN;
    }
  }

  /** Over-travel is reported at once, also after the motor has stopped, however wide the bound. */
  private boolean isPast() {
    return setup.stopsAtStandoff()
        && sense.placed()
        && sense.sound()
        && sense.remainingMicrons(nowNs) < 0;
  }

  private boolean mayStart() {
    return sense.inside()
        && stageAllowed
        && rearm.clear()
        && (sense.trust() != Trust.NONE || rearm.pressed())
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
        torqueWatch.use();
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
      torqueWatch.use();
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
      boolean atStandoff =
          arbiter.reason() == Reason.STANDOFF_REACHED || arbiter.reason() == Reason.PAST_FORAMEN;
      if (atStandoff && setup.learnsCoast && sense.knowsFeed()) {
        work.coast.decide(
            sense.remainingMicrons(nowNs), sense.closingMicronsPerSecond(nowNs, work.coastNs()));
      }
      to(State.HOLDING, arbiter.reason());
      oweWithdrawal();
    } else if (sense.outside()) {
      to(State.PARKED, Reason.CANAL_LEFT);
      rearm.oweAskUnlessFollowed(sense, axis, insertionMicrons);
    }
    return !turning();
  }

  private void oweWithdrawal() {
    rearm.oweWithdrawal(sense, axis, insertionMicrons);
  }

  private void locked() {
    if (reset && arbiter.reaction() != Reaction.LOCK) {
      to(State.PARKED, Reason.RESET);
      rearm.oweDemand();
    }
  }

  /** The one place where the state changes. */
  private void to(State next, Reason why) {
    journal.write(nowNs, state, next, why, speedMilliRpm, torqueMicroNewtonMetres, setup);
    if (next == State.TURNING && !turning()) {
      torqueWatch.startOver();
      monitor.start();
      rearm.start(sense, axis, insertionMicrons);
    }
    boolean rests = next == State.PARKED || next == State.HOLDING || next == State.LOCKED;
    boolean turnsRound = state.drives() && (next == State.BACKING || next == State.ROCKING);
    if (rests || turnsRound) {
      torqueWatch.unload();
    }
    state = next;
    reason = why;
    inStateNs = 0;
    angle.zero();
  }

  private void note(Reason why) {
    journal.write(nowNs, state, state, why, speedMilliRpm, torqueMicroNewtonMetres, setup);
  }

  /**
   * Sets the command to the motor.
   *
   * @param out receives drive, speed, torque limit, state and reason
   */
  public void fill(ControllerOutput out) {
    out.drive = motion.drive();
    out.speedMilliRpm = motion.speedMilliRpm();
    out.torqueLimitMicroNewtonMetres = out.drive.turns() ? setup.torqueMicroNewtonMetres : 0;
    out.state = state;
    out.reason = reason;
  }

  /**
   * The last changes of state.
   *
   * @return the ring itself, for reading between steps
   */
  public EventRing events() {
    return journal.events;
  }

  /**
   * The stage at work.
   *
   * @return one that is in the settings
   */
  public Stage stage() {
    return stage;
  }

  /**
   * How often the stop monitor had to stop the motor.
   *
   * @return a count from 0
   */
  public long monitorStops() {
    return monitor.disagreements();
  }

  /**
   * How long the file still travels after the decision to stop, as far as is known.
   *
   * @return ns, of the present stage
   */
  public long coastNs() {
    return work.coastNs();
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    long h = StateHash.mix(hash, state.code() << 8 | reason.code(), stageAllowed);
    h = StateHash.mix(h, stage.code() << 8 | asked.code(), swingingForward);
    h = StateHash.mix(h, inStateNs, holdAfterBacking);
    h = axisDropped ? StateHash.mix(h, 1) : h;
    h = StateHash.join(h, monitor.mixInto(StateHash.START));
    h = StateHash.join(h, rearm.mixInto(resetPress.mixInto(StateHash.START)));
    h = StateHash.join(h, torqueWatch.mixInto(angle.mixInto(StateHash.START)));
    h = StateHash.join(h, motion.mixInto(asks.mixInto(StateHash.START)));
    h = StateHash.join(h, work.mixInto(StateHash.START));
    h = StateHash.join(h, resting);
    return journal.events.mixInto(h);
  }

  /** The hash of the stages that are not at work. They do not change until they are. */
  private long resting() {
    long h = StateHash.START;
    for (StageWork each : stages) {
      if (each != null && each != work) {
        h = each.mixInto(h);
      }
    }
    return h;
  }

  /**
   * Folds in the mode: the state without the numbers that vary all the time.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixMode(long hash) {
    long h = StateHash.mix(hash, state.code());
    h = StateHash.mix(h, stage.code() << 8 | asked.code());
    h = StateHash.mix(h, stageAllowed);
    h = StateHash.mix(h, (holdAfterBacking ? 1 : 0) | (swingingForward ? 2 : 0));
    h = motion.mixMode(torqueWatch.mixMode(rearm.mixMode(h)));
    return monitor.mixMode(h);
  }
}
