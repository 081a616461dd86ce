package org.stopwell.rig.adversary;

import org.stopwell.core.frame.State;
import org.stopwell.core.settings.StageParameters;

/** Nothing drives on after a hold before the file has really been drawn back. */
final class RestartCheck implements Check {
  private final Withdrawn withdrawn;
  private final double owed;
  private final Left left;
  private boolean held;
  private double deepestSeen;
  private double margin = 2;

  RestartCheck(Setup setup) {
    withdrawn = new Withdrawn(setup);
    owed = setup.settings().stage(setup.stage()).getInt(StageParameters.REARM_DISTANCE);
    left = new Left(setup);
  }

  @Override
  public String name() {
    return "after a hold nothing drives on until the file has really been drawn back";
  }

  @Override
  public void see(Moment moment) {
    boolean gone = left.see(moment);
    boolean holds = moment.out.state == State.HOLDING || moment.out.state == State.LOCKED;
    if (holds && !held) {
      held = true;
      left.begin();
      withdrawn.begin(moment);
      deepestSeen = Double.MAX_VALUE;
    }
    if (!held) {
      return;
    }
    boolean back = withdrawn.see(moment) || gone;
    if (!back) {
      climb(moment);
    }
    if (moment.drives()) {
      held = false;
      margin = back ? margin : Math.min(margin, -1);
    }
  }

  /** A reading that seems to be drawn back is nearer to a failure. */
  private void climb(Moment moment) {
    if (moment.out.readingPresent) {
      deepestSeen = Math.min(deepestSeen, moment.out.remainingMicrons);
      double seems = (moment.out.remainingMicrons - deepestSeen) / owed;
      margin = Math.min(margin, 2 - Math.min(1, seems));
    }
  }

  @Override
  public double margin() {
    return margin;
  }
}
