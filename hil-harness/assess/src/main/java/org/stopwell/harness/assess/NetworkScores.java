package org.stopwell.harness.assess;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.PrimitiveIterator;
import java.util.function.DoubleSupplier;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.stopwell.rig.random.RandomStream;

/**
 * The networks of one build, by normal scores. The build is drawn and stays: how many cells,
 * whether all metal stands at the tip, whether all of it takes part, where the leak begins. There
 * is no side canal: it would belong to one cell or another as the file goes down, and the readings
 * would jump.
 */
final class NetworkScores {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

  private final List<Double> lots = new ArrayList<>();
  private final List<Double> scores = new ArrayList<>();
  private final List<Integer> idle = new ArrayList<>();

  /** Draws the build, and scores. */
  NetworkScores(RandomStream random) {
    VariedNetwork drawn;
    List<Integer> cells = new ArrayList<>();
    do {
      lots.clear();
      scores.clear();
      cells.clear();
      DoubleSupplier score = () -> added(scores, random.nextGaussian());
      drawn =
          VariedNetwork.drawn(
              () -> added(lots, random.nextDouble()),
              () -> NORMAL.cumulativeProbability(score.getAsDouble()),
              () -> {
                cells.add(scores.size());
                return score.getAsDouble();
              });
    } while (drawn.sideSiemens() > 0);
    for (int cell = 0; cell < cells.size(); cell++) {
      if (!drawn.uses(cell)) {
        idle.add(cells.get(cell));
      }
    }
  }

  private static double added(List<Double> all, double value) {
    all.add(value);
    return value;
  }

  /** The scores that were drawn. */
  double[] drawn() {
    return scores.stream().mapToDouble(score -> score).toArray();
  }

  /** Whether a score has to do with this build: those of cells that it does not have do not. */
  boolean matters(int score) {
    return !idle.contains(score);
  }

  /**
   * The network that scores tell.
   *
   * @param all scores
   * @param from where those of the network begin
   */
  VariedNetwork network(double[] all, int from) {
    Iterator<Double> lot = lots.iterator();
    PrimitiveIterator.OfDouble score = Arrays.stream(all, from, all.length).iterator();
    return VariedNetwork.drawn(
        lot::next, () -> NORMAL.cumulativeProbability(score.nextDouble()), score::nextDouble);
  }
}
