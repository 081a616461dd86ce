package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** Conformal bounds against simulation with known answers. */
class ConformalTest {
  private static final int DRAWS = 4000;

  private static double[] group(Random random) {
    double level = StrictMath.exp(0.5 * random.nextGaussian());
    double[] scores = new double[1 + random.nextInt(5)];
    for (int i = 0; i < scores.length; i++) {
      scores[i] = level * Math.abs(random.nextGaussian());
    }
    return scores;
  }

  @Test
  void aNewScoreOfANewGroupIsCoveredAsOftenAsStated() {
    Random random = new Random(11);
    for (int groups : new int[] {19, 30, 100}) {
      int covered = 0;
      for (int draw = 0; draw < DRAWS; draw++) {
        List<double[]> seen = new ArrayList<>();
        for (int g = 0; g < groups; g++) {
          seen.add(group(random));
        }
        double bound = Conformal.ofNewGroup(seen, 0.95).orElseThrow();
        double[] next = group(random);
        covered += next[random.nextInt(next.length)] <= bound ? 1 : 0;
      }
      double share = covered / (double) DRAWS;
      System.out.println(groups + " groups, seed 11: covered " + share);
      // the standard error of a share of 0.95 in 4000 draws is 0.0034
      assertTrue(share > 0.95 - 3 * 0.0035, groups + " groups: " + share);
      assertTrue(share < 0.995, groups + " groups: " + share);
    }
  }

  @Test
  void fewerThanNineteenGroupsGiveNoBound() {
    List<double[]> groups = new ArrayList<>();
    for (int i = 0; i < 18; i++) {
      groups.add(new double[] {i, i});
    }
    assertTrue(Conformal.ofNewGroup(groups, 0.95).isEmpty());
    groups.add(new double[] {99});
    assertEquals(99, Conformal.ofNewGroup(groups, 0.95).orElseThrow());
  }

  /** Of single scores the bound is the usual order statistic: rank ceil0.95(n + 1). */
  @Test
  void singleScoresGiveTheOrderStatistic() {
    List<double[]> groups = new ArrayList<>();
    for (int i = 1; i <= 99; i++) {
      groups.add(new double[] {i});
    }
    assertEquals(95, Conformal.ofNewGroup(groups, 0.95).orElseThrow());
  }

  /** Zero failures in 45, one in 77, two in 105: exact binomial, 95 % with 90 % confidence. */
  @Test
  void aShareWithConfidenceNeedsTheKnownNumbersOfScores() {
    for (int[] known : new int[][] {{45, 0}, {76, 0}, {77, 1}, {104, 1}, {105, 2}}) {
      double[] scores = IntStream.rangeClosed(1, known[0]).asDoubleStream().toArray();
      assertEquals(
          known[0] - known[1], Conformal.ofShare(scores, 0.95, 0.9).orElseThrow(), known[0] + "");
    }
    assertTrue(
        Conformal.ofShare(IntStream.range(0, 44).asDoubleStream().toArray(), 0.95, 0.9).isEmpty());
    assertTrue(Conformal.ofShare(new double[0], 0.95, 0.9).isEmpty());
  }
}
