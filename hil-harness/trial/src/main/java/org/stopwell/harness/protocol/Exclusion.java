package org.stopwell.harness.protocol;

/**
 * Why a trial does not count for the controller. The list is closed, and no rule depends on the
 * result of the trial: each concerns the bench only. An excluded trial stays in every count.
 */
public enum Exclusion {
  /** Always in force: the bench reported a fault. Its own code says which. */
  BENCH_FAULT("The bench reported a fault."),
  /** Always in force: the emergency stop or a safety limit ended the trial. */
  SAFETY_STOP("The emergency stop or a safety limit ended the trial."),
  /** Sentinels: at least one since the last good one was bad. */
  BAD_SENTINEL("A sentinel failed: every trial since the last good one is unproven."),
  /** The bench had just failed. */
  AFTER_RIG_FAULT("The bench had just failed and had not yet passed another trial."),
  /** The host was late. */
  LATE_STEP("A step of the loop was later than the protocol permits.");

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
