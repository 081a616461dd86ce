package org.stopwell.harness.stats;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import org.apache.commons.statistics.distribution.BinomialDistribution;

/** Bounds for one more score like those that were seen, without a law for the scores. */
public final class Conformal {
  private Conformal() {}

  /** A score and its weight. */
  private record Weighted(double score, double weight) {}

  /**
   * A bound for one score of one more group, where groups are exchangeable and so are the scores
   * within a group. Every group counts the same, and the unknown one counts as infinite (Lee,
   * Barber and Willett, arXiv 2306.06342, from memory: hierarchical conformal prediction). The
   * chance that the score is within the bound is at least the share, over the draw of all groups.
   *
   * @param groups the scores of each group; a group without scores is left out
   * @param share 0 to 1 exclusive
   * @return the bound; empty where there are too few groups, 19 for 0.95
   */
  public static OptionalDouble ofNewGroup(List<double[]> groups, double share) {
    List<double[]> given = groups.stream().filter(g -> g.length > 0).toList();
    double each = 1.0 / (given.size() + 1);
    List<Weighted> all =
        given.stream()
            .flatMap(g -> Arrays.stream(g).mapToObj(s -> new Weighted(s, each / g.length)))
            .sorted(Comparator.comparingDouble(Weighted::score))
            .toList();
    double sum = 0;
    for (Weighted one : all) {
      sum += one.weight();
      if (sum >= share - 1e-12) {
        return OptionalDouble.of(one.score());
      }
    }
    return OptionalDouble.empty();
  }

  /**
   * A bound that at least a share of all further scores are within, with a confidence over the draw
   * of the scores: an order statistic (Wilks, Ann Math Stat 1941;12:91, from memory).
   *
   * @param scores independent scores, one per group
   * @param share 0 to 1 exclusive
   * @param confidence 0 to 1 exclusive
   * @return the bound; empty where there are too few scores, 45 for 0.95 and 0.9
   */
  public static OptionalDouble ofShare(double[] scores, double share, double confidence) {
    double[] sorted = scores.clone();
    Arrays.sort(sorted);
    if (sorted.length == 0) {
      return OptionalDouble.empty();
    }
    BinomialDistribution within = BinomialDistribution.of(sorted.length, share);
    for (int rank = 1; rank <= sorted.length; rank++) {
      if (within.cumulativeProbability(rank - 1) >= confidence) {
        return OptionalDouble.of(sorted[rank - 1]);
      }
    }
    return OptionalDouble.empty();
  }
}
