package org.stopwell.core.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
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

  @Test
  void aHashTellsWhichBudgetIsNotWhole() {
    Budget whole = new Budget(10);
    Budget begun = new Budget(10);
    begun.update(4, true);
    Budget tripped = new Budget(0);
    tripped.update(1, true);
    assertNotEquals(whole.mixInto(begun.mixInto(1)), begun.mixInto(whole.mixInto(1)));
    assertNotEquals(whole.mixInto(tripped.mixInto(1)), tripped.mixInto(whole.mixInto(1)));
    assertNotEquals(whole.mixInto(1), whole.mixInto(whole.mixInto(1)));
  }
}
