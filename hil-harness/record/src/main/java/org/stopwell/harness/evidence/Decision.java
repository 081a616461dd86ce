package org.stopwell.harness.evidence;

import org.stopwell.harness.claim.ClaimOutcome;

/**
 * The decision of a stopping rule.
 *
 * @param index the trial in run order after which it was decided
 * @param outcome the claim that it decides
 */
public record Decision(int index, ClaimOutcome outcome) {}
