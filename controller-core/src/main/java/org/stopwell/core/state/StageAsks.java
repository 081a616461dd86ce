package org.stopwell.core.state;

import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.guard.Arbiter;
import org.stopwell.core.guard.Reaction;
import org.stopwell.core.motion.StopPredictor;
import org.stopwell.core.sense.PositionSense;

/** What a stage asks for because of the reading. */
final class StageAsks {
  /** Easing ends this much farther out than it begins, so that it does not flutter, µm; assumed. */
  private static final int EASE_HYSTERESIS_MICRONS = 200;

  private StageAsks() {}

  static void ask(long nowNs, State state, StageSetup setup, PositionSense sense, Arbiter arbiter) {
    trust(sense, arbiter);
    if (setup.stopsAtStandoff() && sense.placed()) {
      standoff(nowNs, state, setup, sense, arbiter);
    }
  }

  private static void trust(PositionSense sense, Arbiter arbiter) {
    if (sense.trust() != Trust.SURE) {
      boolean stale = sense.cause() == Cause.STALE;
      arbiter.ask(Reaction.HOLD, stale ? Reason.SIGNAL_STALE : Reason.TRUST_LOST);
    }
  }

  private static void standoff(
      long nowNs, State state, StageSetup setup, PositionSense sense, Arbiter arbiter) {
    double remaining = sense.remainingMicrons(nowNs);
    double atRest =
        StopPredictor.atRest(remaining, sense.closingMicronsPerSecond(), setup.reactionNs);
    int easeFrom =
        setup.standoffMicrons
            + setup.easeMicrons
            + (state == State.EASING ? EASE_HYSTERESIS_MICRONS : 0);
    if (!(atRest > setup.standoffMicrons)) {
      arbiter.ask(setup.apical, remaining < 0 ? Reason.PAST_FORAMEN : Reason.STANDOFF_REACHED);
    } else if (setup.easeMicrons > 0 && !(atRest > easeFrom)) {
      arbiter.ask(Reaction.EASE, Reason.APPROACHING);
    }
  }
}
