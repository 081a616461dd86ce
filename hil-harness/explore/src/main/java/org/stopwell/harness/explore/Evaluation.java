package org.stopwell.harness.explore;

import java.util.OptionalLong;

/**
 * What one trial of an exploration gives. Whole numbers only.
 *
 * @param possible whether the values of the trial can be together; nothing else counts otherwise
 * @param value the outcome; empty where the trial does not have it
 * @param badness how bad the trial is in the sense of the outcome, above 0 for a bad one
 * @param stopped whether the file stopped at the standoff
 * @param overTravel whether the file was past the foramen
 * @param early whether the file stopped early
 * @param refused whether the controller refused
 * @param stopErrorMicrons stop error, µm; 0 unless stopped
 * @param deepestMicrons least remaining distance, µm
 * @param millis bench time, ms
 */
public record Evaluation(
    boolean possible,
    OptionalLong value,
    long badness,
    boolean stopped,
    boolean overTravel,
    boolean early,
    boolean refused,
    long stopErrorMicrons,
    long deepestMicrons,
    long millis) {

  /** A trial whose values contradict each other. */
  public static final Evaluation IMPOSSIBLE =
      new Evaluation(false, OptionalLong.empty(), 0, false, false, false, false, 0, 0, 0);

  /** A number without a trial. */
  static Evaluation of(long value) {
    return new Evaluation(
        true, OptionalLong.of(value), Math.abs(value), true, false, false, false, 0, 0, 0);
  }

  /** What is evaluated: physics and controller, or a function with a known answer. */
  @FunctionalInterface
  public interface Model {
    /**
     * One trial.
     *
     * @param values a value of each factor, base units
     * @param rest number of the draw of everything else
     * @return what it gives
     */
    Evaluation at(long[] values, long rest);
  }
}
