package org.stopwell.harness.breaking;

import java.util.List;
import org.stopwell.harness.plan.PlanPoint;

/**
 * What the plan draws for one seed.
 *
 * @param seed seed of a plan of one trial
 * @param undisturbed the trial without a disturbance
 * @param millis how long that trial takes, ms
 * @param knobs keys that can move
 */
record DrawnTrial(long seed, PlanPoint.Point undisturbed, long millis, List<Knob> knobs) {
  DrawnTrial {
    knobs = List.copyOf(knobs);
  }
}
