package org.stopwell.rig.fault;

import java.util.HashSet;
import java.util.Set;
import java.util.function.LongSupplier;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.time.Pace;

/**
 * A time line on which the host stalls, once for each stall of the plan: on a bench in lockstep the
 * line skips, by the clock the host really waits.
 */
final class StallingPace implements Pace {
  private final Pace sound;
  private final FaultPlan plan;
  private final boolean lockstep;
  private final LongSupplier firstTurnNs;
  private final Set<Injection> over = new HashSet<>();
  private long skippedNs;
  private long stalledNs;

  StallingPace(Pace sound, FaultPlan plan, boolean lockstep, LongSupplier firstTurnNs) {
    this.sound = sound;
    this.plan = plan;
    this.lockstep = lockstep;
    this.firstTurnNs = firstTurnNs;
  }

  @Override
  public long next() {
    long nowNs = sound.next() + skippedNs;
    stalledNs = 0;
    for (Injection fault : plan.injections()) {
      if (fault.kind() == FaultKind.HOST_STALL
          && fault.holdsAt(nowNs, firstTurnNs.getAsLong())
          && over.add(fault)) {
        stalledNs += Math.round(fault.strength() * 1e6);
      }
    }
    if (stalledNs > 0 && !lockstep) {
      MachineClock.waitNs(stalledNs);
      stalledNs = 0; // the clock itself tells how late the next step is
      return sound.next();
    }
    skippedNs += stalledNs;
    return nowNs + stalledNs;
  }

  @Override
  public long latenessNs() {
    return Math.max(stalledNs, sound.latenessNs());
  }
}
