package org.stopwell.rig.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.rig.random.RandomStream;

class ESeriesTest {
  /** IEC 60063:2015, table of E24. */
  @Test
  void theValuesOfE24AreThoseOfTheStandard() {
    assertEquals(
        List.of(
            1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7,
            5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1),
        ESeries.E24.decade());
  }

  /** IEC 60063:2015: E12 and E6 are every second and every fourth of E24. */
  @Test
  void theCoarserSeriesAreTheKnownOnes() {
    assertEquals(
        List.of(1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2), ESeries.E12.decade());
    assertEquals(List.of(1.0, 1.5, 2.2, 3.3, 4.7, 6.8), ESeries.E6.decade());
  }

  /** IEC 60063:2015, table of E96. */
  @Test
  void theValuesOfE96AreThoseOfTheStandard() {
    assertEquals(
        List.of(
            1.00, 1.02, 1.05, 1.07, 1.10, 1.13, 1.15, 1.18, 1.21, 1.24, 1.27, 1.30, 1.33, 1.37,
            1.40, 1.43, 1.47, 1.50, 1.54, 1.58, 1.62, 1.65, 1.69, 1.74, 1.78, 1.82, 1.87, 1.91,
            1.96, 2.00, 2.05, 2.10, 2.15, 2.21, 2.26, 2.32, 2.37, 2.43, 2.49, 2.55, 2.61, 2.67,
            2.74, 2.80, 2.87, 2.94, 3.01, 3.09, 3.16, 3.24, 3.32, 3.40, 3.48, 3.57, 3.65, 3.74,
            3.83, 3.92, 4.02, 4.12, 4.22, 4.32, 4.42, 4.53, 4.64, 4.75, 4.87, 4.99, 5.11, 5.23,
            5.36, 5.49, 5.62, 5.76, 5.90, 6.04, 6.19, 6.34, 6.49, 6.65, 6.81, 6.98, 7.15, 7.32,
            7.50, 7.68, 7.87, 8.06, 8.25, 8.45, 8.66, 8.87, 9.09, 9.31, 9.53, 9.76),
        ESeries.E96.decade());
  }

  /** 6.5 kΩ lies between 6.2 and 6.8 kΩ; in E96 the nearest is 6.49 kΩ. */
  @Test
  void theNearestToTheBodyResistance() {
    assertEquals(6490, ESeries.E96.nearest(6500));
    assertEquals(6800, ESeries.E24.nearest(6501));
    assertEquals(6200, ESeries.E24.nearest(6499));
    assertEquals(6200, ESeries.E24.atMost(6799));
  }

  @ParameterizedTest
  @EnumSource(ESeries.class)
  void theNearestValueIsNeverFartherThanItsNeighbours(ESeries series) {
    RandomStream random = RandomStream.of(5, "E series");
    for (int i = 0; i < 100; i++) {
      double wanted = Math.pow(10, random.nextBetween(-9, 7));
      double nearest = series.nearest(wanted);
      double atMost = series.atMost(wanted);
      assertTrue(atMost <= wanted && wanted < atMost * 1.5, "wanted " + wanted);
      for (int k = -series.perDecade() * 10; k < series.perDecade() * 8; k++) {
        if (Math.abs(series.value(k) - wanted) < Math.abs(nearest - wanted)) {
          throw new AssertionError(series.value(k) + " is nearer to " + wanted);
        }
      }
    }
  }

  @Test
  void thereIsNothingBelowNought() {
    assertThrows(IllegalArgumentException.class, () -> ESeries.E24.atMost(0));
    assertThrows(IllegalArgumentException.class, () -> ESeries.E24.atMost(Double.NaN));
  }
}
