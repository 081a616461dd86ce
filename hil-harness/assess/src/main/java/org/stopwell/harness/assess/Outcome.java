package org.stopwell.harness.assess;

/**
 * What came of one file in one canal.
 *
 * @param stopped whether the controller stopped the file at its standoff
 * @param pecking whether the hand went up and down
 * @param errorMicrons where the file came to rest, from the standoff, µm, positive short of it; 0
 *     when it was not stopped
 * @param pastForamen whether the tip went past the foramen at any time
 * @param falselySure whether a reading of trust {@code SURE} was off by more than 0.5 mm at any
 *     time while the file turned
 * @param sure whether the controller was sure when it stopped
 * @param standardErrorMicrons standard error of the reading when it stopped, µm; 0 when the sensing
 *     does not give one
 * @param leakMicroSiemens conductance around the canal at the end, µS
 * @param stopNs when it stopped, from the start of the trial, ns
 */
record Outcome(
    boolean stopped,
    boolean pecking,
    int errorMicrons,
    boolean pastForamen,
    boolean falselySure,
    boolean sure,
    int standardErrorMicrons,
    double leakMicroSiemens,
    long stopNs) {}
