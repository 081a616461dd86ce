package org.stopwell.harness.casework;

/** A step that cannot be done with what the record says: it ends as UNDECIDED. */
public final class StepRefusedException extends Exception {
  private static final long serialVersionUID = 1L;

  /**
   * A refusal.
   *
   * @param why what is missing or contradicts, and what to do
   */
  public StepRefusedException(String why) {
    super(why);
  }
}
