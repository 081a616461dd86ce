package org.stopwell.harness.assess;

/**
 * The outcome of one file in one canal.
 *
 * @param stopped whether the controller stopped the file at its standoff
 * @param pecking whether the hand moved up and down
 * @param errorMicrons position at rest relative to the standoff, µm, positive short of it; 0 when
 *     the file was not stopped
 * @param pastForamen whether the tip was past the foramen at any time
 * @param sureAndWrong whether a reading of trust {@code SURE} was off by more than 0.5 mm near the
 *     foramen while the file turned
 * @param sure whether the controller was sure when it stopped
 * @param standardErrorMicrons standard error of the reading at the stop, µm; 0 when the sensing
 *     states none
 * @param leakMicroSiemens conductance around the canal at the end, µS
 * @param stopNs time of the stop from the start of the trial, ns
 */
record VisitOutcome(
    boolean stopped,
    boolean pecking,
    int errorMicrons,
    boolean pastForamen,
    boolean sureAndWrong,
    boolean sure,
    int standardErrorMicrons,
    double leakMicroSiemens,
    long stopNs) {}
