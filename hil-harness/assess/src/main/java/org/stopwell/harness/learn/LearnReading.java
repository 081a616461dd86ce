package org.stopwell.harness.learn;

/**
 * A reading in a tooth left out.
 *
 * @param truthMm the measured distance
 * @param errorMm estimate less measured distance
 */
public record LearnReading(double truthMm, double errorMm) {}
