package org.stopwell.rig.adversary;

import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.State;

/** One step as it really was: overwritten step by step. */
final class Moment {
  /** Step of the controller, ns. */
  static final long STEP_NS = 5_000_000;

  long nowNs;

  /** Where the tip really is, µm short of the foramen. */
  double remaining;

  /** Whether the hand feeds or still answers to a stop: what it does later is its own affair. */
  boolean feeding;

  /** Whether the signal has been displaced by more than noise, ever. */
  boolean displaced;

  /** Whether the signal equals that of a file out of the canal. */
  boolean seemsOut;

  /** Standard error that the policy has stated last, µm; 0 when it states none. */
  double statedMicrons;

  /** Torque at the file over the limit of the stage. */
  double torqueShare;

  State before = State.PARKED;
  final ControllerInput in = new ControllerInput();
  final ControllerOutput out = new ControllerOutput();

  /** What is attacked: for the error that a policy states. */
  final StopController controller;

  Moment(StopController controller) {
    this.controller = controller;
  }

  /**
   * Whether the motor is commanded to turn towards the foramen, other than in a torque reaction.
   */
  boolean drives() {
    return out.state == State.TURNING || out.state == State.EASING;
  }

  boolean drove() {
    return before == State.TURNING || before == State.EASING;
  }
}
