package org.stopwell.harness.evidence;

import java.util.List;
import org.stopwell.harness.claim.ClaimOutcome;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.StoppingRule;

/**
 * The course of a decision by a stopping rule.
 *
 * @param rule the rule
 * @param claim the claim that it decides
 * @param cap most trials that can count for it, as planned
 * @param against for each trial that counted, in order: how many so far spoke against the claim
 * @param looks what each look saw; none unless the rule is one of looks
 */
public record StoppingPath(
    StoppingRule rule, Claim claim, int cap, List<Integer> against, List<Look> looks) {
  /**
   * One look.
   *
   * @param trials how many had counted
   * @param confidence one-sided confidence that the claim was held against
   * @param outcome its result
   */
  public record Look(int trials, double confidence, ClaimOutcome outcome) {}

  /** Takes copies. */
  public StoppingPath {
    against = List.copyOf(against);
    looks = List.copyOf(looks);
  }

  /**
   * How many trials counted for the rule.
   *
   * @return from 0 to the cap
   */
  public int trials() {
    return against.size();
  }
}
