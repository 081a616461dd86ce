package org.stopwell.harness.trial;

import java.util.List;
import org.stopwell.core.frame.Stage;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.fault.FaultPlan;

/**
 * One planned trial. It is a pure function of build, plan and campaign seed.
 *
 * @param index position in run order, from 0
 * @param condition name of its condition in the plan
 * @param expectation what the plan expects here
 * @param stage stage of work whose settings hold
 * @param standoffMicrons target distance short of the foramen, µm
 * @param toleranceMicrons half width of the tolerance band around the standoff, µm
 * @param depthLimitMicrons depth below the reference point at which the stage holds, µm; 0 is no
 *     limit
 * @param torqueLimitMicroNewtonMetres torque limit of the stage at the file, µN·m
 * @param timeLimitNs bench time after which the trial ends, ns
 * @param scene canal, fluid, file, hand, front end and seed
 * @param faults what goes wrong on purpose; usually nothing
 */
public record TrialSpec(
    int index,
    String condition,
    Expectation expectation,
    Stage stage,
    int standoffMicrons,
    int toleranceMicrons,
    int depthLimitMicrons,
    int torqueLimitMicroNewtonMetres,
    long timeLimitNs,
    Scene scene,
    List<PlannedFault> faults) {

  /** Copies the faults. */
  public TrialSpec {
    faults = List.copyOf(faults);
  }

  /**
   * Below which remaining distance the trial is an over-travel.
   *
   * @return remaining distance, µm; never above 0
   */
  public int overTravelBelowMicrons() {
    return expectation.overTravelBelowMicrons(standoffMicrons, toleranceMicrons);
  }

  /**
   * The faults as a bench takes them.
   *
   * @return seeded by the first that has a seed, else by the trial
   */
  public FaultPlan faultPlan() {
    long seed =
        faults.stream()
            .mapToLong(PlannedFault::seed)
            .filter(s -> s >= 0)
            .findFirst()
            .orElse(scene.seed());
    return new FaultPlan(seed, faults.stream().map(PlannedFault::injection).toList());
  }
}
