package org.stopwell.rig.random;

import org.jspecify.annotations.Nullable;
import org.stopwell.core.number.Elementary;
import org.stopwell.rig.random.Tapes.Tape;

/**
 * A named stream of random numbers. What it gives depends on the seed, the name and how many
 * numbers were drawn before, and on nothing else: not on threads, nor on other streams.
 */
public final class RandomStream {
  private static final long FNV_OFFSET = 0xCBF29CE484222325L;
  private static final long FNV_PRIME = 0x100000001B3L;
  private static final double TWO_TO_MINUS_53 = 0x1p-53;

  private final long seed;
  private final long name;
  private final @Nullable Tape tape;
  private final long[] blocks = new long[4];
  private int next = blocks.length;
  private long counter;
  private double spareGaussian = Double.NaN;

  private RandomStream(long seed, long name, @Nullable Tape tape) {
    this.seed = seed;
    this.name = name;
    this.tape = tape;
  }

  /**
   * A stream at its beginning.
   *
   * @param seed seed of a trial, as in {@code Scene.seed()}
   * @param name what the numbers are for, such as {@code "noise"}
   * @return the stream
   */
  public static RandomStream of(long seed, String name) {
    return new RandomStream(seed, hash(name), null);
  }

  /**
   * A stream at its beginning, or what is on a tape in its place.
   *
   * @param seed seed of a trial, as in {@code Scene.seed()}
   * @param name what the numbers are for, such as {@code "noise"}
   * @param tapes tapes in place of some streams
   * @return the stream
   */
  public static RandomStream of(long seed, String name, Tapes tapes) {
    return new RandomStream(seed, hash(name), tapes.of(name).orElse(null));
  }

  /**
   * The seed of one trial of a campaign.
   *
   * @param campaignSeed seed of the campaign
   * @param trial index of the trial, from 0
   * @return a seed that no order of running changes
   */
  public static long trialSeed(long campaignSeed, long trial) {
    long[] block = new long[2];
    Philox.hash(trial, hash("trial"), campaignSeed, block);
    return block[0];
  }

  /**
   * The next 64 random bits.
   *
   * @return any long
   */
  public long nextLong() {
    if (tape != null) {
      return (long) (tape.nextDouble() / TWO_TO_MINUS_53) << 11;
    }
    if (next == blocks.length) {
      Philox.hashPair(counter, name, seed, blocks);
      counter += 2;
      next = 0;
    }
    return blocks[next++];
  }

  /**
   * The next number of a uniform distribution.
   *
   * @return at least 0, less than 1
   */
  public double nextDouble() {
    if (tape != null) {
      return tape.nextDouble();
    }
    return (nextLong() >>> 11) * TWO_TO_MINUS_53;
  }

  /**
   * The next number of a uniform distribution between two limits.
   *
   * @param low least value
   * @param high greatest value
   * @return a value between them
   */
  public double nextBetween(double low, double high) {
    return low + (high - low) * nextDouble();
  }

  /**
   * The next number of the standard normal distribution, by the polar method of Marsaglia and Bray
   * (SIAM Review 1964;6:260).
   *
   * @return mean 0, standard deviation 1
   */
  public double nextGaussian() {
    if (tape != null) {
      return tape.nextGaussian();
    }
    if (!Double.isNaN(spareGaussian)) {
      double spare = spareGaussian;
      spareGaussian = Double.NaN;
      return spare;
    }
    double u;
    double v;
    double square;
    do {
      u = 2 * nextDouble() - 1;
      v = 2 * nextDouble() - 1;
      square = u * u + v * v;
    } while (square >= 1 || square == 0);
    double scale = StrictMath.sqrt(-2 * Elementary.log(square) / square);
    spareGaussian = v * scale;
    return u * scale;
  }

  /** FNV-1a over the UTF-16 units of the name. */
  private static long hash(String name) {
    long hash = FNV_OFFSET;
    for (int i = 0; i < name.length(); i++) {
      hash = (hash ^ name.charAt(i)) * FNV_PRIME;
    }
    return hash;
  }
}
