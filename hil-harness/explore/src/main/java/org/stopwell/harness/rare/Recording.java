package org.stopwell.harness.rare;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.random.Tapes;

/**
 * Tapes of independent standard normal numbers. What is read beyond a tape is drawn when it is
 * needed and kept, so that the same tapes give the same trial again.
 */
final class Recording implements Tapes {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
  private static final double BELOW_ONE = Math.nextDown(1.0);
  private static final int FIRST_LENGTH = 64;

  private final Map<String, Reader> readers = new LinkedHashMap<>();
  private final RandomStream random;

  /**
   * Tapes that are read from their beginning.
   *
   * @param known what is on them already, by stream
   * @param random gives what is read beyond
   */
  Recording(Map<String, double[]> known, RandomStream random) {
    this.random = random;
    known.forEach((stream, tape) -> readers.put(stream, new Reader(tape)));
  }

  @Override
  public Optional<Tape> of(String stream) {
    return Optional.of(readers.computeIfAbsent(stream, s -> new Reader(new double[0])));
  }

  /** Everything that is on the tapes now. */
  Map<String, double[]> tapes() {
    Map<String, double[]> all = new LinkedHashMap<>();
    readers.forEach((stream, reader) -> all.put(stream, reader.tape()));
    return all;
  }

  /**
   * Neighbours of given tapes: z' = √(1 − β²) z + β ξ with ξ standard normal. The proposal leaves
   * the standard normal distribution as it is, so it needs no correction (conditional sampling:
   * Papaioannou, Betz, Zwirglmaier and Straub, Probabilistic Engineering Mechanics 2015;41:89).
   *
   * @param tapes the tapes
   * @param step β, above 0, at most 1; at 1 nothing of the old numbers is left
   * @param random gives ξ
   * @return new tapes of the same lengths
   */
  static Map<String, double[]> near(Map<String, double[]> tapes, double step, RandomStream random) {
    double kept = Math.sqrt(1 - step * step);
    Map<String, double[]> moved = new LinkedHashMap<>();
    tapes.forEach(
        (stream, tape) ->
            moved.put(
                stream,
                Arrays.stream(tape).map(z -> kept * z + step * random.nextGaussian()).toArray()));
    return moved;
  }

  private final class Reader implements Tape {
    private double[] numbers;
    private int length;
    private int place;

    Reader(double[] known) {
      numbers = known;
      length = known.length;
    }

    double[] tape() {
      return Arrays.copyOf(numbers, length);
    }

    @Override
    public double nextGaussian() {
      if (place == length) {
        if (length == numbers.length) {
          numbers = Arrays.copyOf(numbers, Math.max(FIRST_LENGTH, 2 * length));
        }
        numbers[length++] = random.nextGaussian();
      }
      return numbers[place++];
    }

    @Override
    public double nextDouble() {
      return Math.min(BELOW_ONE, NORMAL.cumulativeProbability(nextGaussian()));
    }
  }
}
