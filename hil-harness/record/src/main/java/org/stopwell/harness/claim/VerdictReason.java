package org.stopwell.harness.claim;

import java.util.Optional;
import org.stopwell.harness.trial.Withheld;

/**
 * Why a campaign has its verdict.
 *
 * @param kind what decided
 * @param count how many trials or claims it is about
 * @param withheld why the bench may not decide, for {@link Kind#WITHHELD} alone
 */
public record VerdictReason(Kind kind, long count, Optional<Withheld> withheld) {
  /** What can decide a campaign. */
  public enum Kind {
    /** No trial was run. */
    NO_TRIAL,
    /** Trials were ended by the emergency stop or a safety limit. */
    SAFETY_STOPS,
    /** The bench may not decide. */
    WITHHELD,
    /** Claims are contradicted. */
    CLAIMS_CONTRADICTED,
    /** Trials failed that no claim tolerates. */
    TRIALS_FAILED,
    /** Trials were spoiled by the rig. */
    RIG_FAULTS,
    /** Trials of the plan were not run. */
    TRIALS_NOT_RUN,
    /** The choice of statistics cannot be read, so no claim is decided. */
    STATISTICS_UNREAD,
    /** Claims are not decided. */
    CLAIMS_OPEN,
    /** Trials are not decided. */
    TRIALS_OPEN,
    /** There is no claim, and every trial did what the plan expects. */
    AS_EXPECTED,
    /** Every claim holds. */
    CLAIMS_HOLD
  }

  static VerdictReason of(Kind kind, long count) {
    return new VerdictReason(kind, count, Optional.empty());
  }
}
