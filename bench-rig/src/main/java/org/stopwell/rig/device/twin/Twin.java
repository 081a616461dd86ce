package org.stopwell.rig.device.twin;

import java.util.Map;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;

/** A simulated device: it senses at its electrodes and turns its own motor. */
public interface Twin {
  /**
   * Its measuring front end, as values of the scene section {@code front_end}.
   *
   * @return frequencies, sample period, delay and noise
   */
  Map<String, String> frontEnd();

  /**
   * Teaches it the curve that its maker measured.
   *
   * @param curve magnitudes over the place
   */
  void learn(MakersCurve curve);

  /**
   * Goes on by one step.
   *
   * @param nowNs time since the scene was mounted, ns
   * @param in what its front end measured
   * @param out overwritten with what its motor does
   */
  void step(long nowNs, ControllerInput in, ControllerOutput out);

  /**
   * Mean time from a place of the tip to the act that this place causes.
   *
   * @return ns; negative where it is not known
   */
  long lagNs();
}
