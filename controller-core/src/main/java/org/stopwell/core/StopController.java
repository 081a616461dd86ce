package org.stopwell.core;

import java.util.Optional;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.guard.Arbiter;
import org.stopwell.core.guard.FileLife;
import org.stopwell.core.guard.InputCheck;
import org.stopwell.core.guard.MotorGuard;
import org.stopwell.core.guard.Reaction;
import org.stopwell.core.guard.StepClock;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.sense.LearnedCanal;
import org.stopwell.core.sense.PositionSense;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.state.StateMachine;
import org.stopwell.core.trace.EventRing;
import org.stopwell.core.trace.StateHash;

/** The controller: one pure step from time and input to output. */
public final class StopController {
  private final long linkAgeNs;
  private final StepClock clock;
  private final PositionSense sense;
  private final Arbiter arbiter = new Arbiter();
  private final MotorGuard motorGuard;
  private final FileLife fileLife;
  private final StateMachine machine;

  /**
   * A controller at rest.
   *
   * @param settings checked settings
   */
  public StopController(ControllerSettings settings) {
    this(settings, Policies.BUILT_IN);
  }

  /**
   * A controller at rest, with policies that are not built in.
   *
   * @param settings settings checked with the tables of these policies
   * @param policies the policies that the settings may name
   */
  public StopController(ControllerSettings settings, Policies policies) {
    linkAgeNs = settings.section("guard").get(GuardParameters.LINK_AGE);
    clock = new StepClock(settings.section("guard").get(GuardParameters.STEP_GAP));
    sense = new PositionSense(settings, policies.sensing(settings));
    motorGuard = new MotorGuard(settings.section("guard"));
    fileLife = new FileLife(settings);
    machine = new StateMachine(settings, sense, arbiter, policies);
  }

  /**
   * One step. It never throws, allocates nothing and reads no clock.
   *
   * @param nowNs time on the controller's own line, ns, never less than in the step before
   * @param in what the bench measured
   * @param out receives the command to the motor, and reading and trust
   */
  public void step(long nowNs, ControllerInput in, ControllerOutput out) {
    long dtNs = clock.advance(nowNs);
    if (clock.fault()) {
      sense.forget();
    }
    boolean plausible = InputCheck.isPlausible(nowNs, in);
    if (plausible) {
      sense.update(nowNs, dtNs, in);
    } else {
      sense.idle(nowNs, dtNs);
    }
    arbiter.clear();
    askForBench(in, plausible);
    if (plausible && in.linkAgeNs <= linkAgeNs) { // an old reading tells nothing of the motor now
      motorGuard.update(dtNs, in, arbiter);
      fileLife.update(dtNs, machine.stage(), sense.inside() ? in.speedMilliRpm : 0, arbiter);
    }
    machine.step(nowNs, dtNs, in, plausible);
    machine.fill(out);
    motorGuard.commanded(out.drive, out.speedMilliRpm);
    out.readingPresent = sense.placed();
    out.remainingMicrons = sense.placed() ? (int) sense.remainingMicrons(nowNs) : 0;
    out.boundMicrons = sense.boundMicrons();
    out.trust = sense.trust();
    out.cause = sense.cause();
  }

  /** Reaction to the state of the bench, whatever the file does. */
  private void askForBench(ControllerInput in, boolean plausible) {
    if (in.stopLine) {
      arbiter.ask(Reaction.LOCK, Reason.STOP_LINE);
    }
    if (clock.fault()) {
      arbiter.ask(Reaction.HOLD, Reason.TIME_FAULT);
    }
    if (!plausible || !sense.usable()) {
      arbiter.ask(Reaction.HOLD, Reason.BAD_INPUT);
    }
    if (plausible && in.linkAgeNs > linkAgeNs) {
      arbiter.ask(Reaction.HOLD, Reason.LINK_LOST);
    }
  }

  /**
   * The last changes of state, each with the numbers that decided.
   *
   * @return the ring itself, for reading between steps
   */
  public EventRing events() {
    return machine.events();
  }

  /**
   * How often the file of the present stage has turned in the canal: each turn is one cycle of
   * bending in a curve.
   *
   * @return whole turns
   */
  public long fileTurns() {
    return fileLife.turns(machine.stage());
  }

  /**
   * How often the stop monitor had to stop what the rest of the controller would have let go on.
   * Every time is also in {@link #events()}.
   *
   * @return a count from 0
   */
  public long monitorStops() {
    return machine.monitorStops();
  }

  /**
   * How long the file still travels after the decision to stop, learned from the stops so far.
   *
   * @return ns, of the present stage
   */
  public long coastNs() {
    return machine.coastNs();
  }

  /**
   * Standard error of the distance with all that is not known of the canal.
   *
   * @return µm; 0 when there is no distance or the sensing policy does not give one
   */
  public double standardErrorMicrons() {
    return sense.standardErrorMicrons();
  }

  /**
   * What the sensing policy made of the newest sample, before the filter. It decides nothing.
   *
   * @return µm; no number when the sample gave no distance
   */
  public double unfilteredMicrons() {
    return sense.unfilteredMicrons();
  }

  /**
   * When the file was at {@link #unfilteredMicrons()}.
   *
   * @return ns
   */
  public long unfilteredNs() {
    return sense.unfilteredNs();
  }

  /**
   * What the length stage has taught about this canal, to be kept with its length record.
   *
   * @return empty when nothing was learned or the sensing policy does not learn
   */
  public Optional<LearnedCanal> learned() {
    return sense.learned();
  }

  /**
   * Takes up what a length stage has taught about this canal before: call it between steps, before
   * the file goes in. It is dropped by itself when the canal contradicts it.
   *
   * @param canal what {@link #learned} gave
   * @return whether it is in use; false when other weights made it or the policy does not learn
   */
  public boolean recall(LearnedCanal canal) {
    return sense.recall(canal);
  }

  /**
   * Hash of the whole state: equal states have equal hashes, on any machine.
   *
   * @return 64 bits
   */
  public long stateHash() {
    long h = clock.mixInto(StateHash.START);
    h = StateHash.join(h, sense.mixInto(StateHash.START));
    h = StateHash.join(h, motorGuard.mixInto(StateHash.START));
    h = StateHash.join(h, fileLife.mixInto(StateHash.START));
    return StateHash.join(h, machine.mixInto(StateHash.START));
  }

  /**
   * Hash of the mode: the state without distances, times and counts. Two controllers in the same
   * mode are at the same point of every decision; the exploration of the state space counts modes.
   *
   * @return 64 bits
   */
  public long mode() {
    return machine.mixMode(motorGuard.mixMode(sense.mixMode(StateHash.START)));
  }
}
