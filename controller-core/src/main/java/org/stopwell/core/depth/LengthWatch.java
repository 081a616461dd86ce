package org.stopwell.core.depth;

import java.util.Optional;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;

/**
 * Observes the controller and takes a length reading from every stop at the standoff, on a bench
 * that measures depth. It waits until the file rests, and puts the rest of the stop error right:
 * length = depth + reading − standoff.
 */
public final class LengthWatch {
  /** How long after the stop the depth is read, ns; assumed. */
  private static final long SETTLE_NS = 300_000_000L;

  private final int standoffMicrons;
  private final int fileSize;
  private boolean waiting;
  private boolean taken;
  private long stoppedNs;

  /**
   * A watch that has seen nothing.
   *
   * @param standoffMicrons the standoff of the stage, µm
   * @param fileSize tip diameter of the file, 1/100 mm
   */
  public LengthWatch(int standoffMicrons, int fileSize) {
    this.standoffMicrons = standoffMicrons;
    this.fileSize = fileSize;
  }

  /**
   * Looks at one step.
   *
   * @param nowNs time of the step, ns
   * @param in what the controller saw
   * @param out its output
   * @return a length reading, once per stop
   */
  public Optional<LengthReading> look(long nowNs, ControllerInput in, ControllerOutput out) {
    boolean atStandoff =
        out.state == State.HOLDING
            && (out.reason == Reason.STANDOFF_REACHED || out.reason == Reason.PAST_FORAMEN);
    if (!atStandoff) {
      waiting = false;
      taken = false;
      return Optional.empty();
    }
    if (!waiting) {
      waiting = true;
      stoppedNs = nowNs;
    }
    // a wide bound spoils no reading, it is stated with it
    boolean sound = out.trust == Trust.SURE || (out.cause == Cause.WIDE && out.trust != Trust.NONE);
    boolean readable = in.insertionPresent && out.readingPresent && sound;
    if (taken || !readable || nowNs - stoppedNs < SETTLE_NS) {
      return Optional.empty();
    }
    taken = true;
    int length = in.insertionMicrons + out.remainingMicrons - standoffMicrons;
    return Optional.of(
        new LengthReading(nowNs, length, out.boundMicrons, standoffMicrons, fileSize));
  }
}
