package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.statistics.distribution.BinomialDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ProportionTest {
  /**
   * Wilson for 81/263, 15/148, 0/20, 1/29: Newcombe, Statistics in Medicine 17, 1998, 857, table I
   * (published to 4 digits). Clopper–Pearson for 5/25 (.068 to .407) and 57/60 (.861 to .990) as
   * published; the further digits computed with SciPy's beta quantiles.
   */
  @ParameterizedTest
  @CsvSource({
    "81, 263, .2527367, .3676219",
    "15, 148, .0578440, .1616505",
    "0, 20, 0, .1684335",
    "1, 29, .0008726, .1776443",
    "5, 25, .0683115, .4070374",
    "57, 60, .8607568, .9895677",
    "30, 30, .8842967, 1",
  })
  void intervalsMatchPublishedOnes(int count, int trials, double exactLow, double exactHigh) {
    Proportion p = new Proportion(count, trials);
    Interval exact = p.clopperPearson(0.95).orElseThrow();
    assertEquals(exactLow, exact.low(), 5.1e-8);
    assertEquals(exactHigh, exact.high(), 5.1e-8);
  }

  @Test
  void noneOfAHundredStillHasAnUpperBound() {
    // 1 − 0.025^(1/100), closed form.
    assertEquals(0.036217, new Proportion(0, 100).clopperPearson(0.95).orElseThrow().high(), 5e-7);
    assertEquals(
        .9049661, new Proportion(30, 30).lowerBound(0.95).orElseThrow(), 5e-8, "0.05^(1/30)");
  }

  @ParameterizedTest
  @CsvSource({"59, 0.95, 0.95", "299, 0.95, 0.99", "459, 0.99, 0.99", "29, 0.95, 0.90"})
  void withoutAMissThePublishedNumberOfTrialsIsJustEnough(int n, double confidence, double share) {
    assertTrue(new Proportion(n, n).lowerBound(confidence).orElseThrow() >= share);
    assertTrue(new Proportion(n - 1, n - 1).lowerBound(confidence).orElseThrow() < share);
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 7, 59, 1000})
  void everyBoundLeavesItsTailInTheBinomial(int n) {
    for (int k = 0; k <= n; k += Math.max(1, n / 20)) {
      Proportion p = new Proportion(k, n);
      if (k > 0) {
        double low = p.lowerBound(0.95).orElseThrow();
        double tail = BinomialDistribution.of(n, low).survivalProbability(k - 1);
        assertEquals(0.05, tail, 1e-10, k + " of " + n);
      }
      if (k < n) {
        double high = p.upperBound(0.95).orElseThrow();
        assertEquals(
            0.05, BinomialDistribution.of(n, high).cumulativeProbability(k), 1e-10, k + " of " + n);
      }
    }
  }

  @Test
  void rareEventsKeepTheirDigits() {
    // For k of n with n large the exact upper bound tends to a chi-square quantile over 2n:
    // 1 of 10^7 at 95 %: 4.743864518 / 10^7 (half of chi-square 0.95 with 4 degrees of freedom).
    double bound = new Proportion(1, 10_000_000).upperBound(0.95).orElseThrow();
    assertEquals(4.743864518e-7, bound, 1e-12);
  }

  @Test
  void withoutTrialsNothingIsEstimated() {
    Proportion none = new Proportion(0, 0);
    assertEquals(OptionalDouble.empty(), none.estimate());
    assertEquals(OptionalDouble.empty(), none.lowerBound(0.95));
    assertEquals(OptionalDouble.empty(), none.upperBound(0.95));
    assertEquals(Optional.empty(), none.clopperPearson(0.95));
    assertEquals("not estimable", Numbers.percent(none.estimate()));
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, 1, -1, 95, Double.NaN})
  void aConfidenceOutsideOfZeroToOneIsRefused(double confidence) {
    assertThrows(
        IllegalArgumentException.class, () -> new Proportion(1, 2).clopperPearson(confidence));
  }

  @Test
  void impossibleCountsAreRefused() {
    assertThrows(IllegalArgumentException.class, () -> new Proportion(3, 2));
    assertThrows(IllegalArgumentException.class, () -> new Proportion(-1, 2));
  }
}
