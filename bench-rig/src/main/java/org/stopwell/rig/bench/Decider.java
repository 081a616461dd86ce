package org.stopwell.rig.bench;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.ControllerSettings;

/** Who decides in place of the controller in this program: a board with the exported controller. */
public interface Decider {
  /**
   * Begins a trial: the controller is in the state of a power-on and may turn the motor.
   *
   * @param settings what the trial needs
   * @throws BenchException when the line failed, or the board has another controller
   * @throws DutException when the board failed
   */
  void begin(ControllerSettings settings) throws BenchException, DutException;

  /**
   * One step.
   *
   * @param nowNs time of the controller, ns
   * @param in what was measured
   * @param out receives the decision
   * @throws BenchException when the line failed
   * @throws DutException when the board failed
   */
  void step(long nowNs, ControllerInput in, ControllerOutput out)
      throws BenchException, DutException;

  /**
   * Hash of the state after the last step.
   *
   * @return 64 bits
   */
  long stateHash();
}
