package org.stopwell.harness.length;

import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;

/** Observes the controller and says when a length reading can be taken: once per stop. */
abstract sealed class LengthWatch {
  private boolean taken;

  /** A watch of a file that a motor or a hand moves. */
  static LengthWatch of(MovedBy mover, int standoffMicrons) {
    return mover == MovedBy.MOTOR ? new OfMotor() : new OfHand(standoffMicrons);
  }

  /**
   * Looks at one step.
   *
   * @param nowNs time of the step, ns
   * @param out output of the controller
   * @return true once per stop, when the file rests
   */
  final boolean ripe(long nowNs, ControllerOutput out) {
    if (!rests(nowNs, out)) {
      taken &= !left(out);
      return false;
    }
    boolean first = !taken;
    taken = true;
    return first;
  }

  /** Whether the file rests at the standoff, and the reading can be used. */
  abstract boolean rests(long nowNs, ControllerOutput out);

  /** Whether the next rest is another stop. */
  abstract boolean left(ControllerOutput out);

  /** A wide bound spoils no reading, it is stated with it. */
  private static boolean sound(ControllerOutput out) {
    boolean trusted =
        out.trust == Trust.SURE || (out.cause == Cause.WIDE && out.trust != Trust.NONE);
    return out.readingPresent && trusted;
  }

  /** The controller has stopped a motor at the standoff. */
  private static final class OfMotor extends LengthWatch {
    /** How long after the stop the depth is read, ns; assumed. */
    private static final long SETTLE_NS = 300_000_000L;

    private boolean waiting;
    private long stoppedNs;

    @Override
    boolean rests(long nowNs, ControllerOutput out) {
      boolean stopped = !left(out);
      if (!stopped || !waiting) {
        waiting = stopped;
        stoppedNs = nowNs;
      }
      return stopped && nowNs - stoppedNs >= SETTLE_NS && sound(out);
    }

    @Override
    boolean left(ControllerOutput out) {
      return out.state != State.HOLDING
          || (out.reason != Reason.STANDOFF_REACHED && out.reason != Reason.PAST_FORAMEN);
    }
  }

  /** A hand keeps a file where the reading says the standoff. */
  private static final class OfHand extends LengthWatch {
    /** The reading counts as the standoff within so much, µm; assumed: a hand trembles. */
    private static final int NEAR_MICRONS = 200;

    /** For so long, ns; assumed. */
    private static final long REST_NS = 1_000_000_000L;

    /** A reading that changes by more in that time belongs to a moving file, µm; assumed. */
    private static final int MOVING_MICRONS = 200;

    /** So far from the standoff the hand has left it, µm; assumed. */
    private static final int LEFT_MICRONS = 1_000;

    private final int standoffMicrons;
    private boolean near;
    private long nearNs;
    private int least;
    private int most;

    OfHand(int standoffMicrons) {
      this.standoffMicrons = standoffMicrons;
    }

    @Override
    boolean rests(long nowNs, ControllerOutput out) {
      int shown = out.remainingMicrons;
      boolean good = sound(out) && Math.abs((long) shown - standoffMicrons) <= NEAR_MICRONS;
      least = Math.min(least, shown);
      most = Math.max(most, shown);
      if (!good || !near || most - least > MOVING_MICRONS) {
        near = good;
        nearNs = nowNs;
        least = shown;
        most = shown;
      }
      return good && nowNs - nearNs >= REST_NS;
    }

    @Override
    boolean left(ControllerOutput out) {
      return !out.readingPresent
          || Math.abs((long) out.remainingMicrons - standoffMicrons) > LEFT_MICRONS;
    }
  }
}
