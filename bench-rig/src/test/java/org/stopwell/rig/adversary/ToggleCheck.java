package org.stopwell.rig.adversary;

/** The motor starts again only with a cause outside: hand, pedal, stop line. */
final class ToggleCheck implements Check {
  private final Withdrawn withdrawn;
  private final Left left;
  private boolean stopped;
  private boolean cause;
  private boolean demand = true;
  private double margin = 1;

  ToggleCheck(Setup setup) {
    withdrawn = new Withdrawn(setup);
    left = new Left(setup);
  }

  @Override
  public String name() {
    return "a signal alone never stops the motor and starts it again";
  }

  @Override
  public void see(Moment moment) {
    boolean gone = left.see(moment);
    if (moment.drove() && !moment.out.drive.turns()) {
      stopped = true;
      cause = false;
      left.begin();
      withdrawn.begin(moment);
      margin = Math.min(margin, 0.5);
    }
    cause |= withdrawn.see(moment) || gone;
    cause |= moment.in.stopLine || (moment.in.demand && !demand);
    demand = moment.in.demand;
    if (moment.drives()) {
      margin = stopped && !cause ? -1 : margin;
      stopped = false;
    }
  }

  @Override
  public double margin() {
    return margin;
  }
}
