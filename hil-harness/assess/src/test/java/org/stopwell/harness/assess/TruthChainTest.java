package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.function.ToDoubleFunction;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.assess.TruthChain.Model;
import org.stopwell.rig.random.RandomStream;

class TruthChainTest {
  private static final long SEED = 4711;

  private static double[] drawn(int n, RandomStream random) {
    double[] scores = new double[n];
    for (int i = 0; i < n; i++) {
      scores[i] = random.nextGaussian();
    }
    return scores;
  }

  private static double[] seen(Model model, double[] truth, RandomStream random) {
    double[] seen = model.see(truth);
    for (int i = 0; i < seen.length; i++) {
      seen[i] += random.nextGaussian();
    }
    return seen;
  }

  private static double[] first(TruthChain chain, int moves) {
    double[] values = new double[moves];
    for (int k = 0; k < moves; k++) {
      chain.move();
      values[k] = chain.scores()[0];
    }
    return values;
  }

  private static double mean(double[] values, ToDoubleFunction<Double> of) {
    double sum = 0;
    for (double value : values) {
      sum += of.applyAsDouble(value);
    }
    return sum / values.length;
  }

  /**
   * In the linear Gaussian case what is unknown has, given the readings, the covariance (1 + JᵀJ)⁻¹
   * (Kay, Fundamentals of Statistical Signal Processing I, 1993, §10.6, from memory). Here two
   * unknowns and one reading 40 (x + y): the difference is not told at all, and the mean of x is 40
   * y / (1 + 2·40²), for a reading y.
   */
  @Test
  void whereAllIsLinearTheSpreadIsThatOfTheTextbook() {
    double slope = 40;
    Model linear = x -> new double[] {slope * (x[0] + x[1])};
    RandomStream random = RandomStream.of(SEED, "linear");
    double[] truth = {0.4, -0.9};
    double[] seen = seen(linear, truth, random);
    double[] values = first(new TruthChain(linear, truth, seen, random), 20_000);
    double determinant = 1 + 2 * slope * slope;
    double middle = slope * seen[0] / determinant;
    double variance = (1 + slope * slope) / determinant;
    double found = mean(values, x -> x);
    double spread = mean(values, x -> (x - found) * (x - found));
    System.out.println("seed " + SEED + ": mean " + found + " for " + middle + ", " + spread);
    assertEquals(middle, found, 0.05);
    assertEquals(variance, spread, 0.03);
  }

  /**
   * The reading tells the sum of x and sinh y to a hundredth. What x can be then is a sum over y:
   * the density is that of both spreads on the curve.
   */
  @Test
  void onABentCurveTheSpreadIsThatOfAPlainSum() {
    Model bent = x -> new double[] {100 * (x[0] + StrictMath.sinh(x[1]))};
    RandomStream random = RandomStream.of(SEED, "bent");
    double[] truth = {0.3, 0.8};
    double[] seen = seen(bent, truth, random);
    double[] values = first(new TruthChain(bent, truth, seen, random), 20_000);
    double sum = seen[0] / 100;
    double all = 0;
    double first = 0;
    double second = 0;
    for (double y = -6; y < 6; y += 1e-4) {
      double x = sum - StrictMath.sinh(y);
      double weight = StrictMath.exp(-0.5 * (x * x + y * y));
      all += weight;
      first += weight * x;
      second += weight * x * x;
    }
    double middle = first / all;
    double found = mean(values, x -> x);
    System.out.println("seed " + SEED + ": mean " + found + " for " + middle);
    assertEquals(middle, found, 0.05);
    assertEquals(second / all, mean(values, x -> x * x), 0.07);
  }

  /** A ridge that is bent and a thousand times as long as it is thick. */
  private static double[] ridge(double[] x) {
    double both = x[0] + 0.7 * x[1] + 0.4 * x[1] * x[1];
    return new double[] {1000 * both, 1000 * StrictMath.sin(both), 3 * x[0] * x[1]};
  }

  /**
   * The true state has no mark: among states of its chain it is anywhere in the order as often as
   * any other (Talts et al., arXiv 1804.06788, from memory). Five places in the order, 500 canals.
   */
  @Test
  void theTrueStateIsNowhereMoreOftenThanAnyOther() {
    int[] ranks = new int[5];
    int canals = 500;
    int moved = 0;
    for (int k = 0; k < canals; k++) {
      RandomStream random = RandomStream.of(SEED + k, "ridge");
      double[] truth = drawn(2, random);
      double[] seen = seen(TruthChainTest::ridge, truth, random);
      TruthChain chain = new TruthChain(TruthChainTest::ridge, truth, seen, random);
      int rank = 0;
      for (int state = 1; state < ranks.length; state++) {
        for (int move = 0; move < 12; move++) {
          chain.move();
        }
        double there = chain.scores()[0];
        // a chain that has not moved is as likely above as below
        rank += there < truth[0] || (there == truth[0] && random.nextDouble() < 0.5) ? 1 : 0;
      }
      ranks[rank]++;
      moved += chain.obeyed();
    }
    double expected = (double) canals / ranks.length;
    double square = 0;
    for (int count : ranks) {
      square += (count - expected) * (count - expected) / expected;
    }
    System.out.println("seed " + SEED + ": " + java.util.Arrays.toString(ranks) + ", " + moved);
    assertTrue(moved > 0.3 * 48 * canals, "the chain hardly moves");
    // 0.1 % of the chi-square distribution with four degrees of freedom, handbook table
    assertTrue(square < 18.47, "chi-square " + square);
  }

  /** No answer is right more often than the bound: here the best one is worked out on a grid. */
  @Test
  void theBestAnswerIsNotAboveTheBound() {
    int canals = 150;
    double bound = 0;
    double reached = 0;
    for (int k = 0; k < canals; k++) {
      RandomStream random = RandomStream.of(SEED + k, "answer");
      double[] truth = drawn(2, random);
      Model model = x -> new double[] {30 * (x[0] + 0.5 * StrictMath.sinh(x[1]))};
      double[] seen = seen(model, truth, random);
      TruthChain chain = new TruthChain(model, truth, seen, random);
      bound += TruthChain.bestShare(first(chain, 400), 0.5);
      reached += bestOnGrid(model, seen);
    }
    System.out.println("seed " + SEED + ": bound " + bound + ", reached " + reached);
    assertTrue(reached < bound);
    assertTrue(reached > 0.9 * bound, "the bound says nothing");
  }

  private static double bestOnGrid(Model model, double[] seen) {
    double step = 0.02;
    int half = 250;
    double[] weights = new double[2 * half + 1];
    double all = 0;
    for (int i = -half; i <= half; i++) {
      for (int j = -1500; j <= 1500; j++) {
        double[] x = {i * step, j * 0.003};
        double miss = model.see(x)[0] - seen[0];
        weights[i + half] += StrictMath.exp(-0.5 * (miss * miss + x[0] * x[0] + x[1] * x[1]));
      }
      all += weights[i + half];
    }
    double best = 0;
    int width = (int) Math.round(1 / step);
    for (int i = 0; i + width < weights.length; i++) {
      double inside = 0;
      for (int k = i; k < i + width; k++) {
        inside += weights[k];
      }
      best = Math.max(best, inside);
    }
    return best / all;
  }

  @Test
  void oneAnswerIsRightForWhatLiesWithinItsReach() {
    assertEquals(1, TruthChain.bestShare(new double[] {2}, 0.5));
    assertEquals(0.75, TruthChain.bestShare(new double[] {0, 3, 0.25, 1}, 0.5));
    assertEquals(0.5, TruthChain.bestShare(new double[] {0, 3, 1.01, 1.02}, 0.5));
    assertEquals(
        2 * NormalDistribution.of(0, 1).cumulativeProbability(0.5) - 1,
        TruthChain.bestShare(drawn(200_000, RandomStream.of(SEED, "share")), 0.5),
        0.01);
  }
}
