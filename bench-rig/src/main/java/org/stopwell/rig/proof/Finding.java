package org.stopwell.rig.proof;

/**
 * What one check of a bench found.
 *
 * @param check name of the check
 * @param outcome whether the bench passed it
 * @param measured the measured value with its unit
 * @param limit what is allowed, with its unit; empty when there is no limit
 * @param text the action, in one sentence
 */
public record Finding(String check, Outcome outcome, String measured, String limit, String text) {
  /** Whether a bench passed a check. */
  public enum Outcome {
    /** Passed. */
    PASS,
    /** It did not. */
    FAIL,
    /**
     * It was not tried, or the computer was too late to try it: nothing is said about the bench.
     */
    NOT_DONE
  }
}
