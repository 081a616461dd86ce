package org.stopwell.core.state;

import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.guard.Arbiter;
import org.stopwell.core.guard.Budget;
import org.stopwell.core.guard.Reaction;
import org.stopwell.core.policy.TorqueReaction;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.trace.StateHash;

/**
 * The torque limit: its reaction, and the number of consecutive reactions. One budget of time at
 * lasts over all states in which the file is driven; a torque at the ceiling spends it at once.
 */
final class TorqueWatch {
  /** A torque within this share of the limit touches it, percent: the drive never exceeds it. */
  private static final long TOUCH_PERCENT = 97;

  private final Budget budget;
  private final long ceilingPercent;
  private final TorqueReaction policy;

  /** A reaction has begun above the ceiling: until the torque falls, it has the budget for that. */
  private boolean falling;

  private int used;
  private long freeNs;

  TorqueWatch(ParameterValues guard, TorqueReaction policy) {
    this.policy = policy;
    budget = new Budget(guard.get(GuardParameters.TORQUE_BUDGET));
    ceilingPercent = guard.get(GuardParameters.TORQUE_CEILING);
  }

  void update(
      long dtNs, int torqueMicroNewtonMetres, State state, StageSetup setup, Arbiter arbiter) {
    long hundredfold = Math.abs((long) torqueMicroNewtonMetres) * 100;
    boolean touching = hundredfold >= setup.torqueMicroNewtonMetres * TOUCH_PERCENT;
    boolean beyond = hundredfold >= setup.torqueMicroNewtonMetres * ceilingPercent;
    falling &= beyond;
    if (beyond && !falling) {
      budget.spend();
    }
    boolean driving = state.drives();
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

  /** The file is no longer driven on: it rests or turns round, and that takes its load away. */
  void unload() {
    budget.refill();
    falling = true;
  }

  /** A new start: no retries used. */
  void startOver() {
    used = 0;
    freeNs = 0;
  }

  long mixInto(long hash) {
    long h = budget.mixInto(hash);
    h = StateHash.mix(h, used, falling);
    return StateHash.mix(h, freeNs);
  }

  long mixMode(long hash) {
    return StateHash.mix(StateHash.mix(hash, budget.tripped()), used, falling);
  }
}
