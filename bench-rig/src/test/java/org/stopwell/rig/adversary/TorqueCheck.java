package org.stopwell.rig.adversary;

import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.ParameterValues;

/** The motor answers to a torque at its limit within the budget, and to twice of it at once. */
final class TorqueCheck implements Check {
  private static final double TOUCHES = 0.97;
  private static final long GIVEN_BACK = 4;

  private final long budgetNs;
  private final double ceiling;
  private long spentNs;
  private double margin = 1;

  TorqueCheck(Setup setup) {
    ParameterValues guard = setup.settings().section("guard");
    budgetNs = guard.get(GuardParameters.TORQUE_BUDGET) + 2 * Moment.STEP_NS;
    ceiling = guard.get(GuardParameters.TORQUE_CEILING) / 100.0;
  }

  @Override
  public String name() {
    return "the motor answers to torque within its budget";
  }

  @Override
  public void see(Moment moment) {
    if (!(moment.drove() && moment.drives())) {
      spentNs = 0;
      return;
    }
    if (moment.torqueShare >= ceiling) {
      margin = -1;
    }
    boolean touches = moment.torqueShare >= TOUCHES;
    spentNs = Math.max(0, spentNs + (touches ? Moment.STEP_NS : -Moment.STEP_NS / GIVEN_BACK));
    margin = Math.min(margin, 1 - (double) spentNs / budgetNs);
  }

  @Override
  public double margin() {
    return margin;
  }
}
