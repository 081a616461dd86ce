package org.stopwell.harness.trial;

/** The five verdicts. A broken rig is not a broken device. */
public enum Verdict {
  /** The controller did what the plan expects. */
  PASS(0),
  /** The controller did not do what the plan expects. */
  FAIL(1),
  /** The bench failed; nothing is said about the controller. */
  RIG_FAULT(3),
  /** The emergency stop or a safety limit ended it. */
  SAFETY_STOP(4),
  /** The evidence does not decide. */
  UNDECIDED(5);

  /** Exit code of a program that failed itself: nothing is said about controller or rig. */
  public static final int PROGRAM_FAILED = 6;

  private final int exitCode;

  Verdict(int exitCode) {
    this.exitCode = exitCode;
  }

  /**
   * The exit code of a command that ends with this verdict.
   *
   * @return 0, 1, 3, 4 or 5
   */
  public int exitCode() {
    return exitCode;
  }
}
