package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Optional;
import org.junit.jupiter.api.Test;

class EquivalenceTest {
  /**
   * Lakens 2017, Social Psychological and Personality Science 8, 355: means 5.25 and 5.22, s .95
   * and .83, n 95 and 89, bounds ±.43 pooled standard deviations: t(181.13) = −2.69, p = .004
   * (inputs from memory; further digits computed with SciPy).
   */
  @Test
  void thePublishedExampleOfTwoGroups() {
    double margin = .43 * Math.sqrt((.95 * .95 + .83 * .83) / 2);
    Equivalence test = Equivalence.welch(5.25, .95, 95, 5.22, .83, 89, margin);
    assertEquals(181.134367, test.freedom(), 1e-5);
    assertEquals(3.149730, test.lowerT(), 1e-5);
    assertEquals(-2.692771, test.upperT(), 1e-5);
    assertEquals(.000956008, test.lowerP(), 1e-8);
    assertEquals(.003875522, test.upperP(), 1e-8);
    assertEquals(-.187084, test.interval(0.05).low(), 1e-6);
    assertEquals(.247084, test.interval(0.05).high(), 1e-6);
    assertTrue(test.isEquivalent(0.05));
  }

  /** Thirty stops with mean −22.70 µm and standard deviation 91.57 µm (computed with SciPy). */
  @Test
  void oneRowOfStopsAgainstTwoMargins() {
    double error = 91.57 / Math.sqrt(30);
    Equivalence narrow = new Equivalence(-22.70, error, 29, 50);
    assertEquals(1.632939, narrow.lowerT(), 1e-5);
    assertEquals(.056647, narrow.lowerP(), 1e-6);
    assertFalse(narrow.isEquivalent(0.05));
    Equivalence wide = new Equivalence(-22.70, error, 29, 100);
    assertEquals(3.6055e-5, wide.lowerP(), 1e-8);
    assertEquals(-7.339255, wide.upperT(), 1e-5);
    assertTrue(wide.isEquivalent(0.05));
    assertEquals(-51.1065, wide.interval(0.05).low(), 1e-4);
    assertEquals(5.7065, wide.interval(0.05).high(), 1e-4);
  }

  @Test
  void theIntervalLiesWithinTheMarginsExactlyWhenBothTestsReject() {
    for (int margin = 40; margin <= 60; margin++) {
      Equivalence test = new Equivalence(-22.70, 16.7, 29, margin);
      assertEquals(
          new Interval(-margin, margin).contains(test.interval(0.05)), test.isEquivalent(0.05));
    }
  }

  @Test
  void equalNumbersAreNoEvidence() {
    assertEquals(Optional.empty(), Equivalence.ofMean(Moments.of(3, 10), 50));
    assertEquals(Optional.empty(), Equivalence.ofMean(Moments.of(3, 1), 50));
    assertThrows(IllegalArgumentException.class, () -> new Equivalence(0, 0, 3, 1));
    assertThrows(IllegalArgumentException.class, () -> new Equivalence(Double.NaN, 1, 3, 1));
  }
}
