package org.stopwell.harness.explore;

/** A policy from outside that threw, did not return or allocated memory in a trial. */
public final class BrokenPolicyException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /**
   * A broken policy.
   *
   * @param message names the policy and its file, and says what it did
   */
  public BrokenPolicyException(String message) {
    super(message);
  }
}
