package org.stopwell.harness.budget;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/**
 * The constriction as a second target is known as table or plan state, beside the distance itself.
 */
class ConstrictionBudgetTest {
  @Test
  void bothPartsAddAsRootsOfSquares() {
    assertEquals(50, ConstrictionBudget.expandedMicrons(40, 30), "30, 40 and 50");
    assertEquals(59, ConstrictionBudget.expandedMicrons(50, 30), "58.3, rounded up");
    assertEquals(30, ConstrictionBudget.expandedMicrons(0, 30), "the distance is not stated");
    assertEquals(85, ConstrictionBudget.expandedMicrons(40, 75), "40, 75 and 85");
    UncertaintyBudget budget = ConstrictionBudget.of(40, 30);
    MonteCarlo drawn = budget.monteCarlo(1, MonteCarlo.TRIALS, UncertaintyBudget.COVERAGE);
    assertTrue(budget.agreesWith(drawn, UncertaintyBudget.COVERAGE), "JCGM 101, 8.1");
  }
}
