package org.stopwell.harness.budget;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.calibration.Calibrations;

/** Every contribution of a device in a tooth is in the numbers, by both methods. */
class DeviceBudgetTest {
  private static final List<String> CONTRIBUTIONS =
      List.of(
          "shank scale",
          "axial play of the head",
          "rim of the foramen, 0 to 150 µm, middle taken",
          "bend of the file",
          "medium of the tooth and its age",
          "temperature of the medium, ±1 K");

  private static UncertaintyBudget budget(OptionalDouble zero, boolean advanced) {
    return StopBudget.of(
        new Calibrations("B-1", List.of()),
        null,
        new StopBudget.Basis(
            5_000, 3_000, OptionalDouble.empty(), OptionalDouble.of(20), zero, true, advanced));
  }

  private static MonteCarlo drawn(UncertaintyBudget budget) {
    return budget.monteCarlo(7, MonteCarlo.TRIALS, UncertaintyBudget.COVERAGE);
  }

  @Test
  void bothMethodsAgreeAndEachContributionChangesTheResultOfBoth() {
    for (boolean advanced : new boolean[] {false, true}) {
      List<String> names = new ArrayList<>(CONTRIBUTIONS);
      names.addAll(
          advanced
              ? List.of("tip seen at the foramen, one observer", "step of the advance")
              : List.of("true zero of the tooth, two observers", "measured length of the tooth"));
      UncertaintyBudget whole = budget(OptionalDouble.of(22), advanced);
      MonteCarlo drawn = drawn(whole);
      double expanded = whole.expanded(UncertaintyBudget.COVERAGE);
      assertEquals(whole.combined(), drawn.deviation(), 0.01 * whole.combined());
      // The rim is rectangular and the greatest, so the drawn interval is a little shorter.
      assertEquals(expanded, drawn.halfWidth(), 0.08 * expanded);
      assertTrue(whole.stated(drawn) >= expanded, "the greater one is stated");
      for (String name : names) {
        List<Input> others = whole.inputs().stream().filter(i -> !i.name().equals(name)).toList();
        assertEquals(whole.inputs().size() - 1, others.size(), name);
        UncertaintyBudget without = new UncertaintyBudget("µm", others);
        assertTrue(without.combined() < whole.combined() - 0.1, name);
        assertTrue(drawn(without).deviation() < drawn.deviation(), name);
      }
    }
  }

  /** A distance that is seen does not depend on the measured length nor on its zero. */
  @Test
  void theAdvanceTakesThePlaceOfTheMeasuredLength() {
    List<String> names =
        budget(OptionalDouble.of(22), true).inputs().stream().map(Input::name).toList();
    assertFalse(names.contains("measured length of the tooth"), names::toString);
    assertFalse(names.contains("true zero of the tooth, two observers"), names::toString);
    assertTrue(
        budget(OptionalDouble.of(22), true).combined()
            < budget(OptionalDouble.of(22), false).combined());
  }

  /** Readings at the bench count where they are worse than those of the plan. */
  @Test
  void theWorstZeroCounts() {
    StopBudget.Basis plan =
        new StopBudget.Basis(
            1, 1, OptionalDouble.empty(), OptionalDouble.of(20), OptionalDouble.of(9), true, false);
    assertEquals(OptionalDouble.of(9), plan.with(OptionalDouble.empty()).zeroMicrons());
    assertEquals(OptionalDouble.of(9), plan.with(OptionalDouble.of(4)).zeroMicrons());
    assertEquals(OptionalDouble.of(21), plan.with(OptionalDouble.of(21)).zeroMicrons());
  }
}
