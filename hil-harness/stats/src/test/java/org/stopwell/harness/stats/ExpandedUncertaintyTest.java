package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.stats.ExpandedUncertainty.Part;

/** Expanded uncertainty against the Guide (JCGM 100:2008). */
class ExpandedUncertaintyTest {
  @Test
  void theFactorsAreThoseOfTableG2() {
    double[][] table = {
      {1, 12.71}, {2, 4.30}, {3, 3.18}, {4, 2.78}, {9, 2.26}, {16, 2.12}, {30, 2.04}, {1000, 1.96}
    };
    for (double[] row : table) {
      assertEquals(
          row[1], new ExpandedUncertainty(1, (int) row[0]).coverageFactor(), 0.005, "ν " + row[0]);
    }
  }

  @Test
  void theEndGaugeOfH1() {
    // H.1.6: u = 25, 9.7, 2.9 and 16.6 nm with 18, 25.6, 50 and 2 degrees of freedom; 32 nm, 16.7
    // cut down to 16, t99 = 2.92, U99 = 93 nm.
    ExpandedUncertainty gauge =
        ExpandedUncertainty.of(
            List.of(new Part(25, 18), new Part(9.7, 25.6), new Part(2.9, 50), new Part(16.6, 2)));
    assertEquals(32, gauge.standard(), 0.5);
    assertEquals(16, gauge.freedom());
    assertEquals(2.92, gauge.coverageFactor(0.99), 0.005);
    assertEquals(93, gauge.coverageFactor(0.99) * gauge.standard(), 1);
  }

  @Test
  void onePartKeepsItsDegreesOfFreedomAndKnownPartsHaveNoLimit() {
    assertEquals(2, ExpandedUncertainty.of(List.of(Part.ofMean(0.3, 3))).freedom());
    ExpandedUncertainty known = ExpandedUncertainty.of(List.of(Part.within(1)));
    assertEquals(ExpandedUncertainty.MOST_FREEDOM, known.freedom());
    assertEquals(1 / Math.sqrt(3), known.standard(), 1e-12);
    assertEquals(0, ExpandedUncertainty.of(List.of()).expanded(), 0);
    assertThrows(IllegalArgumentException.class, () -> new ExpandedUncertainty(Double.NaN, 3));
  }

  @Test
  void twoTimesTheStandardUncertaintyOfThreeReadingsCoversFourTimesInFive() {
    Random random = new Random(7);
    int trials = 20_000;
    int two = 0;
    int student = 0;
    for (int i = 0; i < trials; i++) {
      double[] x = {random.nextGaussian(), random.nextGaussian(), random.nextGaussian()};
      double mean = (x[0] + x[1] + x[2]) / 3;
      double squares = 0;
      for (double value : x) {
        squares += (value - mean) * (value - mean);
      }
      ExpandedUncertainty u =
          ExpandedUncertainty.of(List.of(Part.ofMean(Math.sqrt(squares / 2), 3)));
      two += Math.abs(mean) <= 2 * u.standard() ? 1 : 0;
      student += Math.abs(mean) <= u.expanded() ? 1 : 0;
    }
    // P(|t(2)| < 2) = 2/√(4 + 2) = 0.8165 exactly
    assertEquals(0.8165, two / (double) trials, 0.012);
    assertEquals(0.95, student / (double) trials, 0.007);
  }
}
