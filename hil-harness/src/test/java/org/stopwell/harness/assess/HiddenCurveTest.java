package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.function.BiFunction;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.random.RandomStream;

class HiddenCurveTest {
  private static final long SEED = 4711;
  private static final int CANALS = 1500;

  /** Two unknowns: a place from 0 to 3 mm, and a quantity that also moves the readings. */
  private static double[] unknown(RandomStream random) {
    return new double[] {random.nextBetween(0, 3), random.nextGaussian()};
  }

  private static double[] noisy(double[] readings, RandomStream random) {
    double[] noisy = readings.clone();
    for (int i = 0; i < noisy.length; i++) {
      noisy[i] += random.nextGaussian();
    }
    return noisy;
  }

  /**
   * In the linear Gaussian case the place has the variance of the first element of the inverse of
   * JᵀJ plus the prior's precision, whatever the readings (Kay, Fundamentals of Statistical Signal
   * Processing I, 1993, §10.6, from memory), and so the best answer is right with the probability
   * that a normal distribution of that deviation has within 0.5 mm.
   */
  @Test
  void whereAllIsLinearTheBoundIsWhatTheBestEstimatorReaches() {
    double[][] slopes = {{2, 1.5, -0.5}, {1, 2.5, 0.7}, {0.3, -1, 1.8}};
    HiddenCurve.Model linear =
        x -> {
          double[] y = new double[3];
          for (int i = 0; i < 3; i++) {
            for (int p = 0; p < 3; p++) {
              y[i] += slopes[i][p] * x[p];
            }
          }
          return y;
        };
    double deviation = StrictMath.sqrt(firstOfInverse(slopes));
    RandomStream random = RandomStream.of(SEED, "linear");
    for (int k = 0; k < 20; k++) {
      double[] truth = {random.nextBetween(-1, 1), random.nextGaussian(), random.nextGaussian()};
      double[] seen = noisy(linear.see(truth), random);
      HiddenCurve.Answer answer = new HiddenCurve(linear, seen, -20, 20).best(truth, 0.5);
      assertEquals(deviation, answer.deviationMm(), 1e-6 * deviation);
      // the best answer takes in 21 points 0.05 mm apart, wherever the middle lies between them;
      // their sum is off the integral by some 1e-4
      assertTrue(answer.share() <= within(0.525, deviation) + 5e-4, answer::toString);
      assertTrue(answer.share() >= within(0.5, deviation), answer::toString);
    }
  }

  private static double within(double limit, double deviation) {
    return 2 * NormalDistribution.of(0, deviation).cumulativeProbability(limit) - 1;
  }

  /** First element of the inverse of JᵀJ plus one for all but the place, by Cramer's rule. */
  private static double firstOfInverse(double[][] slopes) {
    double[][] a = new double[3][3];
    for (int p = 0; p < 3; p++) {
      for (int q = 0; q < 3; q++) {
        a[p][q] = p == q && p > 0 ? 1 : 0;
        for (double[] row : slopes) {
          a[p][q] += row[p] * row[q];
        }
      }
    }
    double minor = a[1][1] * a[2][2] - a[1][2] * a[2][1];
    double whole =
        a[0][0] * minor
            - a[0][1] * (a[1][0] * a[2][2] - a[1][2] * a[2][0])
            + a[0][2] * (a[1][0] * a[2][1] - a[1][1] * a[2][0]);
    return minor / whole;
  }

  /**
   * The reading tells the sum of place and sinh u alone, and u is normal; so the place is left open
   * by the deviation of sinh u, the root of (e² − 1)/2. Curves spread here: without the growth of
   * volume along them it would come out larger.
   */
  @Test
  void whereCurvesSpreadTheGrowthOfVolumeCounts() {
    HiddenCurve.Model sum = x -> new double[] {50 * (x[0] + StrictMath.sinh(x[1]))};
    RandomStream random = RandomStream.of(SEED, "spread");
    double[] truth = {0.3, 0.4};
    double[] seen = noisy(sum.see(truth), random);
    HiddenCurve.Answer answer = new HiddenCurve(sum, seen, -100, 100).best(truth, 0.5);
    System.out.println("seed " + SEED + ": " + answer);
    double exact = StrictMath.sqrt((StrictMath.exp(2) - 1) / 2);
    assertEquals(exact, answer.deviationMm(), 0.03 * exact);
  }

  private static double[] bent(double[] x) {
    double all = x[0] * StrictMath.exp(0.8 * x[1]);
    return new double[] {6 * all, 0.4 * StrictMath.sin(2 * x[0]) + 0.7 * x[1] * x[0]};
  }

  @Test
  void theBestAnswerIsRightAsOftenAsItsShareSays() {
    RandomStream random = RandomStream.of(SEED, "bent");
    double expected = 0;
    double variance = 0;
    int right = 0;
    for (int k = 0; k < CANALS; k++) {
      double[] truth = unknown(random);
      double[] seen = noisy(bent(truth), random);
      HiddenCurve.Answer answer =
          new HiddenCurve(HiddenCurveTest::bent, seen, 0, 3).best(truth, 0.5);
      expected += answer.share();
      variance += answer.share() * (1 - answer.share());
      right += answer.right() ? 1 : 0;
    }
    System.out.println("seed " + SEED + ": right in " + right + ", expected " + expected);
    assertTrue(expected < 0.97 * CANALS, "this case leaves nothing open");
    assertEquals(expected, right, 4 * StrictMath.sqrt(variance));
  }

  @Test
  void theBestEstimatorThatIsToldNothingIsNotAboveIt() {
    RandomStream random = RandomStream.of(SEED, "estimator");
    double bound = 0;
    double reached = 0;
    for (int k = 0; k < CANALS / 5; k++) {
      double[] truth = unknown(random);
      double[] seen = noisy(bent(truth), random);
      bound += new HiddenCurve(HiddenCurveTest::bent, seen, 0, 3).best(truth, 0.5).share();
      reached += bestOfAll(HiddenCurveTest::logDensity, seen);
    }
    System.out.println("seed " + SEED + ": bound " + bound + ", reached " + reached);
    assertTrue(reached < bound);
    assertTrue(reached > 0.6 * bound, "the bound says nothing");
  }

  private static double logDensity(double[] x, double[] seen) {
    double[] would = bent(x);
    double sum = x[1] * x[1];
    for (int i = 0; i < would.length; i++) {
      sum += (would[i] - seen[i]) * (would[i] - seen[i]);
    }
    return -0.5 * sum;
  }

  /** Share within the best 1 mm when nothing is told: summed over a grid of both unknowns. */
  private static double bestOfAll(BiFunction<double[], double[], Double> density, double[] seen) {
    int places = 301;
    double[] sums = new double[places];
    double all = 0;
    for (int i = 0; i < places; i++) {
      for (int j = -400; j <= 400; j++) {
        sums[i] += StrictMath.exp(density.apply(new double[] {0.01 * i, 0.01 * j}, seen));
      }
      all += sums[i];
    }
    double best = 0;
    for (int i = 0; i + 100 < places; i++) {
      double inside = 0;
      for (int k = i; k <= i + 100; k++) {
        inside += sums[k];
      }
      best = Math.max(best, inside);
    }
    return best / all;
  }
}
