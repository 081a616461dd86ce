package org.stopwell.harness.protocol;

/**
 * Why a trial says nothing about the controller. The list is closed, and no rule looks at what the
 * trial came to: each is about the bench alone. An excluded trial keeps its place in every count.
 */
public enum Exclusion {
  /** Always in force: the bench reported a fault. Its own code says which. */
  BENCH_FAULT("The bench reported a fault."),
  /** Always in force: the emergency stop or a safety limit ended the trial. */
  SAFETY_STOP("The emergency stop or a safety limit ended the trial."),
  /** Known-answer trials: not every one since the last good one was right. */
  BAD_SENTINEL("A known-answer trial was wrong: every trial since the last good one is unproven."),
  /** The bench had just failed. */
  AFTER_RIG_FAULT("The bench had just failed, and had not yet shown that it works again."),
  /** The host was late. */
  LATE_STEP("A step of the loop came later than the protocol allows.");

  private final String text;

  Exclusion(String text) {
    this.text = text;
  }

  /**
   * The rule.
   *
   * @return one plain sentence
   */
  public String text() {
    return text;
  }
}
