package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class BoundedMeanTest {
  /** For hits and misses the bounds are the exact ones of Clopper and Pearson. */
  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 8, 48, 300})
  void onHitsAndMissesTheBoundsAreExactlyClopperAndPearson(int n) {
    for (int hits = 0; hits <= n; hits += Math.max(1, n / 12)) {
      for (double confidence : new double[] {0.51, 0.95, 0.99, 0.9999}) {
        double[] numbers = new double[n];
        Arrays.fill(numbers, 0, hits, 1);
        Proportion p = new Proportion(hits, n);
        String which = hits + " of " + n + " at " + confidence;
        assertEquals(
            p.lowerBound(confidence).orElseThrow(),
            BoundedMean.lower(numbers, confidence),
            1e-11,
            which);
        assertEquals(
            p.upperBound(confidence).orElseThrow(),
            BoundedMean.upper(numbers, confidence),
            1e-11,
            which);
      }
    }
  }

  /** All equal: x (1 − D_0), and 1 − D_0 has the distribution function u^m. */
  @ParameterizedTest
  @CsvSource({"0.3, 5", "1, 8", "0.7, 1", "0.999, 200"})
  void equalNumbersHaveAClosedForm(double x, int m) {
    double[] numbers = new double[m];
    Arrays.fill(numbers, x);
    assertEquals(x * Math.pow(0.05, 1.0 / m), BoundedMean.lower(numbers, 0.95), 1e-12);
    assertEquals(1 - (1 - x) * Math.pow(0.05, 1.0 / m), BoundedMean.upper(numbers, 0.95), 1e-12);
  }

  /**
   * Quantiles of Σ D_i x_i from 2,000,000 draws in NumPy: {@code rng=np.random.default_rng(1);
   * D=rng.dirichlet(np.ones(m+1),2_000_000); np.quantile(D[:,:m]@x,.05)}, the four rows in this
   * order from one generator.
   */
  @ParameterizedTest
  @CsvSource({
    "'.9 .5 1 .7', .35447",
    "'1 1 1 1 1 1 1 .8333333333333334', .67214",
    "'.3 .3 .3 .3 .3', .16460",
    "'.1 .2 .9', .09666",
  })
  void theBoundIsTheQuantileOfTheWeightedSum(String numbers, double simulated) {
    assertEquals(simulated, BoundedMean.lower(read(numbers), 0.95), 5e-4);
  }

  /** Two numbers x > y: the chance is a sum of two powers over their differences. */
  @Test
  void twoNumbersHaveAClosedForm() {
    double x = 0.8;
    double y = 0.5;
    // For t below both: P(Σ > t) = Σ_i a_i² / Π_{j≠i} (a_i − a_j) with a_i = x_i − t over i above.
    double t = BoundedMean.lower(new double[] {x, y}, 0.95);
    double a = x - t;
    double b = y - t;
    double more = a * a / ((a - b) * x) + b * b / ((b - a) * y);
    assertEquals(0.95, more, 1e-12);
  }

  /** A success that becomes a failure lowers both bounds, in whichever canal it happens. */
  @Test
  void noBoundRisesWhenANumberFalls() {
    SplittableRandom random = new SplittableRandom(5);
    for (int round = 0; round < 3000; round++) {
      int m = 1 + random.nextInt(12);
      int each = 1 + random.nextInt(18);
      double[] numbers = new double[m];
      for (int i = 0; i < m; i++) {
        numbers[i] = (double) random.nextInt(each + 1) / each;
      }
      int at = random.nextInt(m);
      if (numbers[at] == 0) {
        numbers[at] = 1;
      }
      double[] less = numbers.clone();
      less[at] = Math.max(0, less[at] - 1.0 / each);
      String which = Arrays.toString(numbers) + " and " + Arrays.toString(less);
      assertTrue(BoundedMean.lower(less, 0.95) <= BoundedMean.lower(numbers, 0.95) + 1e-12, which);
      assertTrue(BoundedMean.upper(less, 0.95) <= BoundedMean.upper(numbers, 0.95) + 1e-12, which);
    }
  }

  @Test
  void theQuickDecisionIsThatOfTheBound() {
    SplittableRandom random = new SplittableRandom(6);
    for (int round = 0; round < 2000; round++) {
      double[] numbers = random.doubles(1 + random.nextInt(10)).toArray();
      double bound = BoundedMean.lower(numbers, 0.9);
      assertTrue(BoundedMean.isAtLeast(numbers, 0.9, bound - 1e-9));
      assertTrue(!BoundedMean.isAtLeast(numbers, 0.9, bound + 1e-9));
    }
  }

  @Test
  void numbersOutOfRangeAreRefused() {
    for (double wrong : new double[] {-0.01, 1.01, Double.NaN}) {
      assertThrows(
          IllegalArgumentException.class, () -> BoundedMean.lower(new double[] {wrong}, 0.95));
    }
    assertThrows(IllegalArgumentException.class, () -> BoundedMean.lower(new double[0], 0.95));
    assertThrows(IllegalArgumentException.class, () -> BoundedMean.lower(new double[] {1}, 1));
  }

  private static double[] read(String numbers) {
    return Arrays.stream(numbers.split(" ")).mapToDouble(Double::parseDouble).toArray();
  }
}
