package org.stopwell.rig.adversary;

import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.State;
import org.stopwell.core.guard.InputCheck;
import org.stopwell.core.settings.GuardParameters;

/** Nothing turns with the stop line open, a stale signal, a lost link, no demand, or locked. */
final class ForbiddenCheck implements Check {
  private static final long FOREVER_NS = Long.MAX_VALUE / 4;

  private final long signalAgeNs;
  private final long linkAgeNs;
  private long newestNs = -FOREVER_NS;
  private boolean broken;

  ForbiddenCheck(Setup setup) {
    var guard = setup.settings().section("guard");
    signalAgeNs = guard.get(GuardParameters.SIGNAL_AGE);
    linkAgeNs = guard.get(GuardParameters.LINK_AGE);
  }

  @Override
  public String name() {
    return "nothing turns with stop line, stale signal, lost link, no demand or lock";
  }

  @Override
  public void see(Moment moment) {
    boolean sampled =
        moment.in.positionKind != null && moment.in.positionKind != PositionKind.ABSENT;
    if (sampled && moment.in.sampleTimeNs <= moment.nowNs + InputCheck.CLOCK_SLACK_NS) {
      newestNs = Math.max(newestNs, moment.in.sampleTimeNs);
    }
    boolean forbidden =
        moment.in.stopLine
            || !moment.in.demand
            || moment.nowNs - newestNs > signalAgeNs
            || moment.in.linkAgeNs > linkAgeNs
            || moment.out.state == State.LOCKED;
    broken |= forbidden && moment.out.drive.turns();
  }

  @Override
  public double margin() {
    return broken ? -1 : 1;
  }
}
