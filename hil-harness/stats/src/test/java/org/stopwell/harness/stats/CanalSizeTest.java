package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.OptionalInt;
import java.util.SplittableRandom;
import java.util.function.DoubleSupplier;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CanalSizeTest {
  private static DoubleSupplier stream() {
    return new SplittableRandom(11)::nextDouble;
  }

  /** Mean and intraclass correlation of drawn canals are those asked for. */
  @ParameterizedTest
  @CsvSource({".95, .1, 18", ".8, .3, 6", ".9, .5, 3", ".99, 0, 18", ".9, 1, 5", ".995, .001, 200"})
  void drawnCanalsHaveTheShareAndTheCorrelation(double share, double correlation, int trials) {
    for (CanalCounts counts :
        List.of(
            CanalCounts.betaBinomial(trials, share, correlation),
            CanalCounts.twoKinds(trials, share, correlation))) {
      assertEquals(share, counts.mean(), 1e-12);
      assertEquals(share * 0.9, counts.lost(0.1).mean(), 1e-12);
      int canals = 400_000;
      DoubleSupplier uniform = stream();
      double sum = 0;
      double squares = 0;
      for (int c = 0; c < canals; c++) {
        double x = counts.draw(uniform.getAsDouble());
        sum += x;
        squares += x * x;
      }
      double mean = sum / canals;
      // Variance of a canal's share: p (1 − p) (ρ + (1 − ρ)/n).
      double expected = share * (1 - share) * (correlation + (1 - correlation) / trials);
      assertEquals(share, mean, 5 * Math.sqrt(expected / canals));
      assertEquals(expected, squares / canals - mean * mean, 0.03 * expected);
    }
  }

  /** With one trial in each canal, the power is the exact one of the binomial. */
  @Test
  void oneTrialInEachCanalHasTheExactPower() {
    CanalCounts counts = CanalCounts.betaBinomial(1, 0.99, 0);
    for (int n : new int[] {59, 100, 181}) {
      double exact = SampleSize.powerOfShare(n, 0.95, 0.95, 0.99);
      double found =
          CanalSize.power(n, counts, 0.95, List.of(0.95), 10_000, stream())
              .estimate()
              .orElseThrow();
      assertEquals(exact, found, 4 * Math.sqrt(exact * (1 - exact) / 10_000), n + " canals");
    }
  }

  @Test
  void theNumberOfCanalsReachesThePowerAndOneSixthLessDoesNot() {
    CanalCounts counts = CanalCounts.betaBinomial(6, 0.995, 0.1);
    int canals =
        CanalSize.least(counts, 0.95, List.of(0.95), 0.9, CanalSizeTest::stream).orElseThrow();
    // A program in C gave 0.93 for 80 canals and 0.79 for 72.
    assertEquals(78, canals, 2);
    DoubleSupplier other = new SplittableRandom(12)::nextDouble;
    assertTrue(power(canals, counts, other) >= 0.9);
    assertTrue(power(canals - canals / 6, counts, other) < 0.9);
  }

  private static double power(int canals, CanalCounts counts, DoubleSupplier uniform) {
    return CanalSize.power(canals, counts, 0.95, List.of(0.95), 20_000, uniform)
        .estimate()
        .orElseThrow();
  }

  @Test
  void aClaimThatIsNotTrueNeedsMoreCanalsThanThereAre() {
    CanalCounts counts = CanalCounts.betaBinomial(6, 0.95, 0.1);
    assertEquals(
        OptionalInt.empty(),
        CanalSize.least(counts, 0.95, List.of(0.95), 0.9, CanalSizeTest::stream));
    assertEquals(59, CanalSize.withoutMiss(0.95, 0.95));
    CanalCounts sure = CanalCounts.betaBinomial(6, 1, 0.1);
    assertEquals(
        OptionalInt.of(59), CanalSize.least(sure, 0.95, List.of(0.95), 0.9, CanalSizeTest::stream));
  }

  @Test
  void whatIsNoShareIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> CanalCounts.betaBinomial(0, .9, .1));
    assertThrows(IllegalArgumentException.class, () -> CanalCounts.betaBinomial(3, Double.NaN, .1));
    assertThrows(IllegalArgumentException.class, () -> CanalCounts.twoKinds(3, .9, 1.1));
    assertThrows(IllegalArgumentException.class, () -> CanalCounts.twoKinds(3, .9, .1).lost(1));
  }
}
