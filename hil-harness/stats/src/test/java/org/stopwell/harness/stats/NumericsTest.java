package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The numerical tools against closed forms and another program. */
class NumericsTest {
  /** Values of SciPy 1.17, nct.cdf. */
  @ParameterizedTest
  @CsvSource({
    "2, 5, 1, 0.778074662616",
    "1.5, 1, 0.5, 0.685827028994",
    "10, 30, 8, 0.881213492378",
    "-1, 3, -2, 0.842650566030",
    "2.5, 59, 0, 0.992390429026",
  })
  void theNoncentralTAgreesWithAnotherProgram(
      double t, double freedom, double delta, double chance) {
    assertEquals(chance, NoncentralT.cumulative(t, freedom, delta), 1e-9);
  }

  /** Simpson's rule is exact for cubic functions, in two panels as in two hundred. */
  @Test
  void anIntegralOfACubicIsExact() {
    for (int panels : new int[] {2, 4, 200}) {
      assertEquals(18, Quadrature.simpson(x -> 4 * x * x * x + 2 * x, 1, 2, panels), 1e-9);
    }
    assertEquals(2, Quadrature.simpson(Math::sin, 0, Math.PI, 100), 1e-7);
  }

  @Test
  void aRootIsFoundToTheLastDigitAndTheEndsOfTheRangeHold() {
    assertEquals(Math.sqrt(2), Bisection.solve(x -> x * x, 2, 0, 10), 1e-14);
    assertEquals(-3, Bisection.solve(x -> x, -3, -10, 10), 1e-12);
    assertEquals(10, Bisection.solve(x -> x, 99, 0, 10), 1e-9, "beyond the range");
    assertEquals(0, Bisection.solve(x -> x, -99, 0, 10), 1e-9, "before the range");
    assertEquals(1e-12, Bisection.solve(x -> x, 1e-12, 0, 1), 1e-26, "a small root too");
  }
}
