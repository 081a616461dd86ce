package org.stopwell.harness.live;

import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** What a finished trial is on the live page. Codes are their order. */
public enum LiveStop {
  /** Stopped within the tolerance. */
  WITHIN,
  /** Stopped outside of the tolerance. */
  OUTSIDE,
  /** Stopped, and was past the foramen. */
  OVER_TRAVEL,
  /** Did not stop at the standoff, as expected. */
  AS_EXPECTED,
  /** Did not stop at the standoff, against the expectation. */
  NO_STOP,
  /** Never started. */
  NOT_STARTED,
  /** Spoiled by the rig. */
  RIG_FAULT,
  /** Ended by the emergency stop. */
  SAFETY_STOP;

  private static final LiveStop[] BY_CODE = values();

  static LiveStop of(TrialResult trial, Condition condition) {
    if (trial.verdict() == Verdict.RIG_FAULT) {
      return RIG_FAULT;
    }
    if (trial.verdict() == Verdict.SAFETY_STOP) {
      return SAFETY_STOP;
    }
    if (trial.stopped()) {
      return condition.isOverTravel(trial)
          ? OVER_TRAVEL
          : ConditionSummary.isWithin(trial, condition.toleranceMicrons()) ? WITHIN : OUTSIDE;
    }
    if (trial.neverStarted()) {
      return NOT_STARTED;
    }
    return trial.verdict() == Verdict.PASS ? AS_EXPECTED : NO_STOP;
  }

  static LiveStop ofCode(int code) {
    return code >= 0 && code < BY_CODE.length ? BY_CODE[code] : RIG_FAULT;
  }
}
