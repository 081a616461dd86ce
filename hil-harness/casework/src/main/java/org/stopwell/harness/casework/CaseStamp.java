package org.stopwell.harness.casework;

/**
 * What every entry of a record states beside its result.
 *
 * @param date date and time, UTC, such as {@code 2026-03-02T10:15:00Z}
 * @param tooth FDI number
 * @param canal name of the canal
 * @param operator code of the operator, never a name
 * @param bench kind of the bench; {@code none} for a step that moves no file
 * @param simulated whether the canal is a model
 * @param build version and fingerprint of the program
 * @param caseSha256 SHA-256 of case.yaml as it was, hexadecimal
 * @param settings fingerprint of the settings of the step; empty for a step that moves no file
 */
public record CaseStamp(
    String date,
    int tooth,
    String canal,
    String operator,
    String bench,
    boolean simulated,
    String build,
    String caseSha256,
    String settings) {
  /** The bench of a step that moves no file. */
  public static final String NO_BENCH = "none";
}
