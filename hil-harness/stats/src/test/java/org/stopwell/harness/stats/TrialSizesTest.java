package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.math.BigDecimal;
import java.util.Map;
import org.junit.jupiter.api.Test;

class TrialSizesTest {
  /** 20,000 simulated campaigns in docs/statistics.md: 4.7 % and 95.3 % accepted, 113 trials. */
  @Test
  void aSequentialTestHasTheChancesThatItsSimulationFinds() {
    TrialSizes sizes = new TrialSizes(0.95, 0.95, 1, 0, 0, null, () -> () -> 0.5);
    sizes.sequential(0.01, 0.05, 300);
    Map<String, Object> values = sizes.values();
    assertNumber(0.047, 0.006, values, "sequential test at 0.05 misses: accepts");
    assertNumber(0.953, 0.006, values, "sequential test at 0.01 misses: accepts");
    assertNumber(113, 2, values, "sequential test at 0.01 misses: mean trials");
  }

  private static void assertNumber(
      double expected, double within, Map<String, Object> values, String name) {
    BigDecimal value = (BigDecimal) values.getOrDefault(name, BigDecimal.ZERO);
    assertEquals(expected, value.doubleValue(), within, name);
  }
}
