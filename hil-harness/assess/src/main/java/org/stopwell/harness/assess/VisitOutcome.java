package org.stopwell.harness.assess;

/**
 * The outcome of one file in one canal.
 *
 * @param stopped whether the controller stopped the file at its standoff
 * @param driven whether the motor turned at all
 * @param pecking whether the hand moved up and down
 * @param errorMicrons position at rest relative to the standoff, µm, positive short of it; 0 when
 *     the file was not stopped
 * @param readingErrorMicrons reading less truth where the stop was decided, µm; 0 when the file was
 *     not stopped
 * @param boundMicrons stated 95 % bound of that reading, µm; 0 when none was stated
 * @param sure whether the controller was sure when it stopped
 * @param pastForamen whether the tip was past the foramen at any time
 * @param sureAndWrong whether a reading of trust {@code SURE} was off by more than 0.5 mm near the
 *     foramen while the file turned
 * @param leakMicroSiemens conductance around the canal at the end, µS
 * @param stopNs time of the stop from the start of the trial, ns
 */
record VisitOutcome(
    boolean stopped,
    boolean driven,
    boolean pecking,
    int errorMicrons,
    int readingErrorMicrons,
    int boundMicrons,
    boolean sure,
    boolean pastForamen,
    boolean sureAndWrong,
    double leakMicroSiemens,
    long stopNs) {
  /** Whether the reading of the decision was off by more than a distance, µm. */
  boolean offBy(int microns) {
    return Math.abs(readingErrorMicrons) > microns;
  }

  /** Whether the stated bound held where the stop was decided. */
  boolean covered() {
    return Math.abs(readingErrorMicrons) <= boundMicrons;
  }
}
