package org.stopwell.harness.trial;

import java.util.Arrays;
import java.util.Optional;

/** Why a bench may run but not decide. The name is the cause code in records and reports. */
public enum Withheld {
  /** No proof of this bench is on record, or one of its checks was not done. */
  NOT_PROVEN("The bench is not proven."),
  /** A check of the proof failed. */
  PROOF_FAILED("A check of the proof failed."),
  /** The bench must be proven again. */
  PROOF_DUE("The proof is overdue."),
  /** The bench is not the one that was proven. */
  BENCH_CHANGED("The bench has changed since it was proven."),
  /** A quantity was never calibrated. */
  NOT_CALIBRATED("The bench is not calibrated."),
  /** A calibration is overdue. */
  CALIBRATION_DUE("The calibration is overdue."),
  /** The gauge study or the budget shows that the bench is not accurate enough. */
  NOT_CAPABLE("The bench is not accurate enough for this tolerance."),
  /** The error is closer to the limit of the tolerance than its uncertainty. */
  GUARD_BAND("The stop error is closer to the limit than its uncertainty.");

  private final String sentence;

  Withheld(String sentence) {
    this.sentence = sentence;
  }

  /**
   * What it means.
   *
   * @return one sentence
   */
  public String sentence() {
    return sentence;
  }

  /**
   * Whether it is why a trial's verdict was withheld.
   *
   * @param trial a trial
   * @return true when the trial is undecided for this cause
   */
  public boolean holds(TrialResult trial) {
    return trial.verdict() == Verdict.UNDECIDED && trial.code().equals(name());
  }

  /**
   * Why a trial's verdict was withheld because of the bench as a whole.
   *
   * @param trial a trial
   * @return the cause, empty when its bench may decide; never {@link #GUARD_BAND}, which speaks of
   *     one trial alone
   */
  public static Optional<Withheld> from(TrialResult trial) {
    return Arrays.stream(values()).filter(c -> c != GUARD_BAND && c.holds(trial)).findFirst();
  }
}
