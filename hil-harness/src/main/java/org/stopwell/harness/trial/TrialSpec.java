package org.stopwell.harness.trial;

import org.stopwell.core.frame.Stage;
import org.stopwell.rig.bench.Scene;

/**
 * One planned trial. It is a pure function of build, plan and campaign seed.
 *
 * @param index position in run order, from 0
 * @param condition name of its condition in the plan
 * @param expectation what the plan expects here
 * @param stage stage of work whose settings hold
 * @param standoffMicrons target distance short of the foramen, µm
 * @param toleranceMicrons half width of the tolerance band around the standoff, µm
 * @param timeLimitNs bench time after which the trial ends, ns
 * @param scene canal, fluid, file, hand, front end and seed
 */
public record TrialSpec(
    int index,
    String condition,
    Expectation expectation,
    Stage stage,
    int standoffMicrons,
    int toleranceMicrons,
    long timeLimitNs,
    Scene scene) {}
