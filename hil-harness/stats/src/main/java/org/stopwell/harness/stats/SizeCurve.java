package org.stopwell.harness.stats;

import java.util.OptionalInt;
import java.util.function.DoubleUnaryOperator;

/**
 * A share over the number of trials, or over the true share, as a picture shows it.
 *
 * @param title what it shows
 * @param across name of what it is over
 * @param up name of the share, in percent
 * @param low where it begins
 * @param high where it ends, above low
 * @param counts whether it is over a number of trials
 * @param share the share, 0 to 1
 * @param wanted the share that is wanted
 * @param needed the smallest number of trials that is enough; empty where none is or none is asked
 * @param caption how to read it, a sentence or two
 */
public record SizeCurve(
    String title,
    String across,
    String up,
    double low,
    double high,
    boolean counts,
    DoubleUnaryOperator share,
    double wanted,
    OptionalInt needed,
    String caption) {}
