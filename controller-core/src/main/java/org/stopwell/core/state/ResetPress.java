package org.stopwell.core.state;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.trace.StateHash;

/**
 * The reset as an act: the line must be closed, then the reset must be seen released, then pressed.
 * A reset that is stuck, or held while the line closes, is no act.
 */
final class ResetPress {
  private boolean released;

  /** One step; true in the one step in which the reset is pressed. */
  boolean update(ControllerInput in, boolean plausible) {
    if (!plausible) {
      return false;
    }
    boolean pressed = released && in.reset && !in.stopLine;
    released = !in.reset && !in.stopLine;
    return pressed;
  }

  long mixInto(long hash) {
    return StateHash.mix(hash, released);
  }
}
