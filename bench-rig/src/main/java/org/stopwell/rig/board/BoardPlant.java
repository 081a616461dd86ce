package org.stopwell.rig.board;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;

/** What a board drives and measures. */
public interface BoardPlant {
  /**
   * Prepares one trial; time stands at 0.
   *
   * @param scene the trial
   * @throws BenchException when it cannot be made
   */
  void mount(Scene scene) throws BenchException;

  /**
   * Goes on to a time under a command.
   *
   * @param nowNs time since the mount, ns, ascending
   * @param command what the motor does until then
   */
  void advance(long nowNs, ControllerOutput command);

  /**
   * Measures.
   *
   * @param reading overwritten
   */
  void read(ControllerInput reading);

  /**
   * What is really so.
   *
   * @return a reused frame
   */
  Truth truth();
}
