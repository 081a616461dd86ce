package org.stopwell.core.state;

import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.guard.Arbiter;
import org.stopwell.core.guard.Reaction;
import org.stopwell.core.policy.Stopping;
import org.stopwell.core.policy.TrustPolicy;
import org.stopwell.core.sense.PositionSense;
import org.stopwell.core.trace.StateHash;

/** What a stage asks for because of where the file is, or because that is not known. */
final class StageAsks {
  /** Easing ends this much farther out than it begins, so that it does not flutter, µm; assumed. */
  private static final int EASE_HYSTERESIS_MICRONS = 200;

  private final Stopping stopping;
  private final TrustPolicy trustPolicy;

  /** How far before the standoff easing begins, or has begun. */
  private double easeMicrons;

  StageAsks(Stopping stopping, TrustPolicy trustPolicy) {
    this.stopping = stopping;
    this.trustPolicy = trustPolicy;
  }

  /**
   * Trust below SURE: by policy, but a stale, open or saturated signal always holds. A wide bound
   * matters where the stage stops at a standoff, and not before there is a distance.
   */
  void trust(StageSetup setup, PositionSense sense, Arbiter arbiter) {
    if (sense.trust() == Trust.SURE) {
      return;
    }
    switch (sense.cause()) {
      case STALE -> arbiter.ask(Reaction.HOLD, Reason.SIGNAL_STALE);
      case OPEN, RAILED -> arbiter.ask(Reaction.HOLD, Reason.TRUST_LOST);
      case WIDE -> {
        if (sense.trust() == Trust.NONE || (setup.stopsAtStandoff() && !sense.far())) {
          arbiter.ask(
              trustPolicy.onLost(sense.trust(), sense.cause(), setup.onWide, setup.onNone),
              Reason.TRUST_LOST);
        }
      }
      default ->
          arbiter.ask(
              trustPolicy.onLost(sense.trust(), sense.cause(), setup.onDoubtful, setup.onNone),
              Reason.TRUST_LOST);
    }
  }

  /** The standoff, from the predicted place of rest. */
  void standoff(
      long nowNs,
      State state,
      StageSetup setup,
      long coastNs,
      PositionSense sense,
      Arbiter arbiter) {
    if (!setup.stopsAtStandoff() || !sense.placed()) {
      return;
    }
    double remaining = sense.decidingMicrons(nowNs);
    double foreseen =
        stopping.atRest(remaining, sense.closingMicronsPerSecond(nowNs, coastNs), coastNs);
    double atRest = Math.min(remaining, foreseen) - sense.cautionMicrons();
    if (state != State.EASING) {
      double inTime = sense.feedMicronsPerSecond() * setup.easeSeconds;
      easeMicrons = inTime > setup.easeMicrons ? inTime : setup.easeMicrons;
    }
    double easeFrom =
        setup.standoffMicrons + easeMicrons + (state == State.EASING ? EASE_HYSTERESIS_MICRONS : 0);
    if (!(atRest > setup.standoffMicrons)) {
      boolean past = sense.remainingMicrons(nowNs) < 0;
      arbiter.ask(setup.apical, past ? Reason.PAST_FORAMEN : Reason.STANDOFF_REACHED);
    } else if (setup.easeMicrons > 0 && !(atRest > easeFrom)) {
      arbiter.ask(Reaction.EASE, Reason.APPROACHING);
    }
  }

  /** The depth limit: one that cannot be measured cannot be kept, so it holds as well. */
  void depth(StageSetup setup, boolean present, int insertionMicrons, Arbiter arbiter) {
    boolean limited = setup.depthLimitMicrons > 0;
    if (limited && !(present && insertionMicrons < setup.depthLimitMicrons)) {
      arbiter.ask(Reaction.HOLD, Reason.DEPTH_LIMIT);
    }
  }

  /** How far before the standoff easing begins: farther out for a fast hand, µm. */
  double easeMicrons() {
    return easeMicrons;
  }

  long mixInto(long hash) {
    return StateHash.mix(hash, easeMicrons);
  }
}
