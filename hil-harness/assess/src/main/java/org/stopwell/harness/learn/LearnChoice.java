package org.stopwell.harness.learn;

import java.util.Optional;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.harness.trace.TraceDirectory;

/**
 * What to learn from.
 *
 * @param directory the traces
 * @param start the weights to start from
 * @param file size and taper of the file that was used; empty where they are not known or differ
 * @param confident whether the bound must hold with 90 % confidence over the draw of the taught
 *     teeth, which takes 45 teeth and makes it wider
 * @param build version of the software
 * @param jobs threads; the result does not depend on it
 */
public record LearnChoice(
    TraceDirectory directory,
    DepthWeights start,
    Optional<MeasuringFile> file,
    boolean confident,
    String build,
    int jobs) {

  /**
   * A file for measuring.
   *
   * @param size tip diameter, 1/100 mm
   * @param taperPercent growth of its diameter, %
   */
  public record MeasuringFile(int size, double taperPercent) {}
}
