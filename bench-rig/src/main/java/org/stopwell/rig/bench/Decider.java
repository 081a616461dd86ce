package org.stopwell.rig.bench;

import java.util.Optional;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Stage;
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
   * What is missing for a trial with some settings.
   *
   * @param settings what the trial needs
   * @return what was found, what is needed and what to do; empty when a board holds it
   */
  Optional<String> lack(ControllerSettings settings);

  /**
   * Begins a trial that watches the board as a device with a motor of its own: from now on the
   * bench itself steps it, and nobody sees its output.
   *
   * @param settings what the trial needs
   * @param stage the stage of work that the board is set to
   * @throws BenchException when the line failed, or the board has another controller
   * @throws DutException when the board failed
   */
  void beginAlone(ControllerSettings settings, Stage stage) throws BenchException, DutException;

  /**
   * Says whether a board that is watched as a device has failed since {@link #beginAlone}.
   *
   * @throws BenchException when the line failed
   * @throws DutException when the board failed
   */
  void verify() throws BenchException, DutException;

  /**
   * Hash of the state after the last step.
   *
   * @return 64 bits
   */
  long stateHash();
}
