package org.stopwell.core.state;

import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.guard.Arbiter;
import org.stopwell.core.guard.Budget;
import org.stopwell.core.guard.Reaction;
import org.stopwell.core.policy.TorqueReaction;
import org.stopwell.core.trace.StateHash;

/** The torque limit: what it asks for, and how often in a row it may do so. */
final class TorqueWatch {
  /** A torque within this share of the limit touches it, percent: the drive never exceeds it. */
  private static final long TOUCH_PERCENT = 97;

  private final Budget budget;
  private final TorqueReaction policy;
  private int used;
  private long freeNs;

  TorqueWatch(long budgetNs, TorqueReaction policy) {
    this.policy = policy;
    budget = new Budget(budgetNs);
  }

  void update(
      long dtNs, int torqueMicroNewtonMetres, State state, StageSetup setup, Arbiter arbiter) {
    boolean touching =
        Math.abs((long) torqueMicroNewtonMetres) * 100
            >= setup.torqueMicroNewtonMetres * TOUCH_PERCENT;
    boolean driving = state == State.TURNING || state == State.EASING;
    if (!budget.update(dtNs, touching)) {
      freeNs = driving && !touching ? Math.min(setup.retryClearNs, freeNs + dtNs) : 0;
      used = freeNs >= setup.retryClearNs ? 0 : used;
      return;
    }
    freeNs = 0;
    Reaction asked = driving ? policy.onLimit(setup.onTorque, used, setup.retries) : Reaction.HOLD;
    boolean holds = asked.compareTo(Reaction.ROCK) < 0 || asked == Reaction.HOLD;
    boolean spent = driving && holds && setup.onTorque != Reaction.HOLD;
    arbiter.ask(holds ? Reaction.HOLD : asked, spent ? Reason.RETRIES_SPENT : Reason.TORQUE_LIMIT);
  }

  /** A reaction to the torque limit has begun. */
  void use() {
    used++;
  }

  /** The state has changed: the load of the state before says nothing about the next one. */
  void refill() {
    budget.refill();
  }

  /** A new start: no retries used. */
  void startOver() {
    used = 0;
    freeNs = 0;
  }

  long mixInto(long hash) {
    long h = budget.mixInto(hash);
    h = StateHash.mix(h, used);
    return StateHash.mix(h, freeNs);
  }

  long mixMode(long hash) {
    return StateHash.mix(StateHash.mix(hash, budget.tripped()), used);
  }
}
