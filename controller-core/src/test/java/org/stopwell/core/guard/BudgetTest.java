package org.stopwell.core.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class BudgetTest {

  @Test
  void aConditionTripsWhenTheBudgetIsSpentAndNotBefore() {
    Budget budget = new Budget(10);
    assertFalse(budget.update(9, true));
    assertTrue(budget.update(1, true));
  }

  @Test
  void aFlickeringConditionTripsAsWell() {
    Budget budget = new Budget(10);
    int steps = 0;
    while (!budget.tripped()) {
      budget.update(4, steps % 2 == 0);
      steps++;
    }
    // Each pair spends 4 and gives back 1: 3, 6, then 10.
    assertEquals(5, steps);
  }

  @Test
  void aRareConditionNeverTrips() {
    Budget budget = new Budget(10);
    for (int i = 0; i < 10_000; i++) {
      assertFalse(budget.update(4, i % 5 == 0));
    }
  }

  @Test
  void itClearsOnlyWhenTheWholeBudgetIsBack() {
    Budget budget = new Budget(10);
    budget.update(10, true);
    assertTrue(budget.update(36, false));
    assertFalse(budget.update(4, false));
  }

  @Test
  void noBudgetTripsAndClearsAtOnce() {
    Budget budget = new Budget(0);
    assertTrue(budget.update(0, true));
    assertFalse(budget.update(1, false));
  }
}
