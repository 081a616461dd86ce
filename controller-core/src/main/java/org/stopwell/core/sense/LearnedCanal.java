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
    this.weights = weights;
    this.numbers = numbers.clone();
    int wild = firstWild();
    if (wild < NUMBERS) {
      throw new IllegalArgumentException(
          "number "
              + wild
              + " of a learned canal is "
              + numbers[wild]
              + ", beyond 1000000 either way");
    }
  }

  /**
   * The first number that no controller gave. A board takes the numbers from its own memory.
   *
   * @return {@link #NUMBERS} when there is none
   */
  public int firstWild() {
    int i = 0;
    while (i < NUMBERS && Math.abs(numbers[i]) <= MOST) {
      i++;
    }
    return i;
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

  /** Copies its numbers. */
  void copyTo(double[] record) {
    System.arraycopy(numbers, 0, record, 0, NUMBERS);
  }
}
