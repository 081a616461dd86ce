package org.stopwell.rig.random;

import java.util.List;
import org.stopwell.core.number.Elementary;

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
  private final List<Nudges.Shift> shifts;
  private final long[] block = new long[2];
  private long counter;
  private boolean secondHalf;
  private long place;
  private long shift;
  private long shiftEnds;
  private double spareGaussian = Double.NaN;

  private RandomStream(long seed, long name, List<Nudges.Shift> shifts) {
    this.seed = seed;
    this.name = name;
    this.shifts = shifts;
  }

  /**
   * A stream at its beginning.
   *
   * @param seed seed of a trial, as in {@code Scene.seed()}
   * @param name what the numbers are for, such as {@code "noise"}
   * @return the stream
   */
  public static RandomStream of(long seed, String name) {
    return new RandomStream(seed, hash(name), List.of());
  }

  /**
   * A stream at its beginning, some of whose words are shifted.
   *
   * @param seed seed of a trial, as in {@code Scene.seed()}
   * @param name what the numbers are for, such as {@code "noise"}
   * @param nudges shifts of this stream and of others
   * @return the stream
   */
  public static RandomStream of(long seed, String name, Nudges nudges) {
    return new RandomStream(seed, hash(name), nudges.of(name));
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
    return shifts.isEmpty() ? word() : word() + shift();
  }

  /** The sum of all shifts of the next word; it is the same up to the next end of a range. */
  private long shift() {
    if (place == shiftEnds) {
      shift = 0;
      shiftEnds = Long.MAX_VALUE;
      for (Nudges.Shift s : shifts) {
        if (s.from() <= place && place < s.to()) {
          shift += s.by();
        }
        shiftEnds = Math.min(shiftEnds, place < s.from() ? s.from() : endAfter(s));
      }
    }
    place++;
    return shift;
  }

  private long endAfter(Nudges.Shift s) {
    return place < s.to() ? s.to() : Long.MAX_VALUE;
  }

  private long word() {
    if (secondHalf) {
      secondHalf = false;
      return block[1];
    }
    Philox.hash(counter++, name, seed, block);
    secondHalf = true;
    return block[0];
  }

  /**
   * The next number of a uniform distribution.
   *
   * @return at least 0, less than 1
   */
  public double nextDouble() {
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
