package org.stopwell.harness.external;

/**
 * An interval in which the file turns one way.
 *
 * @param from first sample
 * @param to sample after the last
 * @param way 1 forward, -1 backward
 */
record Run(int from, int to, int way) {}
