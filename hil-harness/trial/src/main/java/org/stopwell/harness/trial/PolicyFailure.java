package org.stopwell.harness.trial;

/** A policy from outside that threw, did not return or allocated memory in the step. */
public final class PolicyFailure extends RuntimeException {
  private static final long serialVersionUID = 1;

  private final Kind kind;

  /** What the policy did. */
  public enum Kind {
    /** It threw. */
    POLICY_THREW,
    /** It did not return. */
    POLICY_STUCK,
    /** It allocated memory, step after step. */
    POLICY_ALLOCATED
  }

  /**
   * A failure.
   *
   * @param kind what the policy did
   * @param message with its name and where it comes from
   */
  PolicyFailure(Kind kind, String message) {
    super(message);
    this.kind = kind;
  }

  /**
   * What the policy did.
   *
   * @return the kind, whose name is the code of the trial
   */
  public Kind kind() {
    return kind;
  }

  /**
   * Whether a policy from outside failed in a trial. No claim tolerates it.
   *
   * @param trial the result of the trial
   * @return true when its code says so
   */
  public static boolean isIn(TrialResult trial) {
    for (Kind each : Kind.values()) {
      if (trial.code().equals(each.name())) {
        return true;
      }
    }
    return false;
  }
}
