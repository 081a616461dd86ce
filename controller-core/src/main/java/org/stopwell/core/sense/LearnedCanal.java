package org.stopwell.core.sense;

/**
 * What one approach has taught about a canal, to be kept with its length record and given to a
 * later stage: the features at the place of the length and the estimates there. Of fixed size, and
 * bound to the weights that made it: other weights mean other numbers.
 */
public final class LearnedCanal {
  /** How many numbers it holds. */
  public static final int NUMBERS = DepthEstimate.INPUTS + 2 * DepthEstimate.TARGETS;

  private static final double MOST = 1e6;

  private final long weights;
  private final double[] numbers;

  /**
   * A learned canal.
   *
   * @param weights fingerprint of the weights that made it
   * @param numbers {@link #NUMBERS} numbers as a controller gave them
   * @throws IllegalArgumentException when they are too few, too many or no numbers
   */
  public LearnedCanal(long weights, double[] numbers) {
    if (numbers.length != NUMBERS) {
      throw new IllegalArgumentException(
          "a learned canal has " + NUMBERS + " numbers, not " + numbers.length);
    }
    for (int i = 0; i < NUMBERS; i++) {
      if (!(Math.abs(numbers[i]) <= MOST)) {
        throw new IllegalArgumentException(
            "number " + i + " of a learned canal is " + numbers[i] + ", beyond 1000000 either way");
      }
    }
    this.weights = weights;
    this.numbers = numbers.clone();
  }

  /**
   * Fingerprint of the weights that made it.
   *
   * @return 64 bits
   */
  public long weights() {
    return weights;
  }

  /**
   * Its numbers.
   *
   * @return a copy
   */
  public double[] numbers() {
    return numbers.clone();
  }
}
