package org.stopwell.core.sense;

import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.guard.Budget;

/** One cause of lost trust: its budget and how much trust is left once the budget is spent. */
final class Detector {
  final Cause cause;
  final Trust left;
  final Budget budget;

  Detector(Cause cause, Trust left, long budgetNs) {
    this.cause = cause;
    this.left = left;
    this.budget = new Budget(budgetNs);
  }
}
